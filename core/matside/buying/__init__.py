"""What to buy: strips across the usable width, lengths off the bolt, fat quarters, and kits for a class."""
