"""The engine: likelihood, posterior, verdict, look next. Pure functions."""
