"""Text to SI floats and back: units, ranges, tolerances, printing in the reader's units."""
