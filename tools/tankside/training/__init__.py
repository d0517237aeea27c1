"""Who may do what: what was taught, entries of a competence file, how competence stands, and what changed since."""
