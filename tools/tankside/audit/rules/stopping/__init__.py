"""Stopping: there, short, and proved."""
