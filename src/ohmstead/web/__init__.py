"""The local page on a folder of site files: thin, over the same calls as the command line."""
