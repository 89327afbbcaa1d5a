"""Where the parts of a site stand on their plate, and how the wires between them are led."""
