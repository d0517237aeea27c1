"""Questions that are made of a procedure, one module for each kind; `asking` collects them."""
