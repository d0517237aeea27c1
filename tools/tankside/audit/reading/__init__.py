"""What rules of a family share: readers of a book, tables of published facts, closed lists of words."""
