"""What is shown to people who are trained, and what they are asked."""
