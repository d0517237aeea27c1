"""Lockout: six elements, every source of energy, the way back."""
