"""The shape of every file of a book: JSON Schema 2020-12, and our own sentences for what does not fit."""
