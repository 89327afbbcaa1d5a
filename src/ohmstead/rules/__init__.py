"""Two files a rule, side by side, found by folder: `slug.py` checks, `slug.md` explains."""
