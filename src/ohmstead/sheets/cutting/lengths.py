"""Lengths as they are cut: metres to the centimetre, feet and inches rounded up so that no piece gets short."""

from math import ceil

INCH_M = 0.0254


def metric(length_m: float) -> str:
    """Metres to the centimetre: "1.88 m"."""
    return f"{length_m:.2f} m"


def imperial(length_m: float) -> str:
    """Feet and inches, rounded up: "6 ft 3 in"."""
    inches = ceil(length_m / INCH_M - 1e-6)
    feet, rest = divmod(inches, 12)
    return " ".join(part for part in (f"{feet} ft" if feet else "", f"{rest} in" if rest or not feet else "") if part)


def both(length_m: float, units: str) -> str:
    """Both, the asked system first."""
    one, other = metric(length_m), imperial(length_m)
    return f"{other} ({one})" if units == "imperial" else f"{one} ({other})"


def long(length_m: float, units: str) -> str:
    """A length in the asked system alone, where there is no room for both."""
    return imperial(length_m) if units == "imperial" else metric(length_m)
