"""Decides whatever the builder left open with `choose`, by one programme over the whole supply."""
