"""Commands: read the words, call one task, show."""
