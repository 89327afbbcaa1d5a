"""Figures in the order the reader wants: metric first or imperial first, always both where the trade uses both."""

from ...quantity.gauge import gauge_name, nearest_gauge
from ...quantity.show import show, show_area_both, show_length_both, show_temperature_both
from ..document import Terms

NOTHING = "-"


def length(length_m: float, terms: Terms) -> str:
    """A length as the reader wants it: "1.6 m (5.2 ft)" or "5.2 ft (1.6 m)"."""
    return _turned(show_length_both(length_m), terms)


def area(area_mm2: float, terms: Terms) -> str:
    """A cross-section as the reader wants it: "2.5 mm² (13 AWG)" or "13 AWG (2.5 mm²)"."""
    return _turned(show_area_both(area_mm2), terms)


def gauge(area_mm2: float) -> str:
    """The nearest wire gauge of a cross-section: "13 AWG"."""
    return gauge_name(nearest_gauge(area_mm2))


def temperature(temperature_c: float, terms: Terms) -> str:
    """A temperature as the reader wants it: "25 °C (77 °F)" or "77 °F (25 °C)"."""
    return _turned(show_temperature_both(temperature_c), terms)


def figure(value: float | None, dimension: str, digits: int = 3) -> str:
    """A value with its unit; a dash when it is not known or has no end."""
    if value is None or value - value != 0:
        return NOTHING
    return show(value, dimension, digits)


def _turned(both: str, terms: Terms) -> str:
    first, _, second = both.partition(" (")
    return f"{second.rstrip(')')} ({first})" if terms.units == "imperial" and second else both
