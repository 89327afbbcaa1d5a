"""The bench: what the meter should read, what it reads, and which joint is bad."""
