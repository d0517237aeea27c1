"""A book served to a browser while it is being written."""
