"""One module a page: what it shows, and what can be done on it."""
