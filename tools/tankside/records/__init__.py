"""Working copies as they were carried out: events in a chain, folded into a state; what was done judged again."""
