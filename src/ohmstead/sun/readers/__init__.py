"""Readers of weather files, one a format; each hands on rows as they stand in the file."""
