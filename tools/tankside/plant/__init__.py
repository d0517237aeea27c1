"""The plant as a graph with a state, what each step does to it, and the rehearsal of procedures on it."""
