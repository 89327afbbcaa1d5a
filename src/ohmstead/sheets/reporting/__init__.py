"""The pieces of the report."""
