"""What leaves: a season for a recipient, its covering page, and the public version."""
