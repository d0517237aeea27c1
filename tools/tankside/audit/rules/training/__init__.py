"""Rules on how people are trained."""
