"""What the user sees: rankings, tables, faults, each also as plain text."""
