"""Kinds of control in a hazard assessment."""

ADMINISTRATIVE = "administrative"
#: the strongest first; common practice
KINDS = ("elimination", "substitution", "engineering", ADMINISTRATIVE)
