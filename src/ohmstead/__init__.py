"""Ohmstead: one safe extra-low-voltage DC supply, checked from one plain-text site file."""
