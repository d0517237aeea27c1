"""The book as frozen dataclasses; a field's metadata says what its names refer to."""
