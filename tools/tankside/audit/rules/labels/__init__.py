"""Labels and waste."""
