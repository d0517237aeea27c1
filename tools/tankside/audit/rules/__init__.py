"""The rules of the audit, one a file, in a folder for each family."""
