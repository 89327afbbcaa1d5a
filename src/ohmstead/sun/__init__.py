"""The sun over a site: hours of weather, what shades the panels, and what they harvest."""
