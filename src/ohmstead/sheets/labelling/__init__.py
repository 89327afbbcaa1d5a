"""Labels to stick on wires, fuses, converters, plugs and doors."""
