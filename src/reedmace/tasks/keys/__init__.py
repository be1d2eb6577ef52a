"""What the authors of a key ask: its faults, what it cannot tell, and trials with simulated observers."""
