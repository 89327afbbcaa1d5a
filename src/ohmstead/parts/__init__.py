"""Generic parts as data, no brands: wire, fuse families, plugs, cells, Ethernet cable."""
