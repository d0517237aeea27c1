"""Exact amounts: closed expression trees, their value, their working, and the published helpers built of them."""
