"""The one-line drawing: a tree of parts laid out in columns and rows, drawn with signs of our own hand."""
