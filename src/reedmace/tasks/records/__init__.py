"""Records that are there: found, corrected, named otherwise, told with their history."""
