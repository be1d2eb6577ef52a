"""Trials: simulated observers against any key. Pure but for the random generators passed in."""
