"""Cautions: before what they cover, whole, in the right words."""
