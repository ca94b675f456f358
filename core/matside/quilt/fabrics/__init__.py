"""Which fabric every piece is of."""
