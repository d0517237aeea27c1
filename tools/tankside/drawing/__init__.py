"""Drawings made once for screen and paper alike: every function returns a whole SVG document as text."""
