"""Amounts with their working, from the helpers and the facts of this workshop."""
