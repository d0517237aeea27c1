"""Protective equipment: what is worn, against what, and who has judged it."""
