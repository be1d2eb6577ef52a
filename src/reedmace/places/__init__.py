"""Grid squares, datum shift, vice-counties."""
