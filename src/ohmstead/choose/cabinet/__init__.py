"""What a box needs to stay cool: ways to cool it side by side, and whatever of it was left open decided."""
