"""Years of hours: what the sun gives, what the load takes, and what the battery makes of it."""
