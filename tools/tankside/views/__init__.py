"""What pages and sheets show, as text and lists; templates only loop over it."""
