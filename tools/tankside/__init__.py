"""Tankside: a book of workshop procedures, checked, worked out, and rendered as a site and as sheets."""
