"""From runs to pieces of wire, and from rolls and offcuts to pieces with least waste."""
