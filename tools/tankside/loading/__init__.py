"""From the bytes of a book's files to text values that know their place."""
