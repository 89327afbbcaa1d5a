"""Published tables as data with their provenance; one reader; one bibliography."""
