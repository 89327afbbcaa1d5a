"""The switch-on plan and its record on paper."""
