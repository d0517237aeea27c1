"""What speaks against a step in a state: each module one concern, each function yields faults."""
