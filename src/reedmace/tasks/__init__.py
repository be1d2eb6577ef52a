"""One use case a file; the only room that joins others."""
