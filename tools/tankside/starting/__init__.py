"""What a writer begins with: a new book, a new procedure, the schemas for an editor."""
