"""Records and files against the rules."""
