"""Fills every `choose` of a site by one optimisation, and says what decides each choice."""
