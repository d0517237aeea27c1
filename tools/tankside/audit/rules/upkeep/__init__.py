"""Upkeep: what goes out of date."""
