"""What is on the bolt: its facts, how it is spread, what it permits, and how people write it."""
