"""The battery as a source: open-circuit voltage, resistance, protection limits."""
