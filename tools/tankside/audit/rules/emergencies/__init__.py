"""Emergencies: what must be there before it is needed."""
