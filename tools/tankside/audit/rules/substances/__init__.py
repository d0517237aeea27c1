"""Substances: what meets what, in which order, in what it is kept."""
