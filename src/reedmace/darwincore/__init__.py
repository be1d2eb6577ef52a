"""Darwin Core terms and files."""
