"""Writing: what makes a step one that people can follow."""
