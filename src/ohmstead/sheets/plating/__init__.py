"""Drawings of the mounting plate: the scaled plan, and the template at true size."""
