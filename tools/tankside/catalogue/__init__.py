"""The only code that walks a book: every file read, every name resolved."""

from tankside.catalogue.book import Book, Loaded, load

__all__ = ["Book", "Loaded", "load"]
