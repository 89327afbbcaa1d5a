"""Quantities and units of a table with columns of the builder's own: stated, never guessed."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from ..hours import FloatArray

# Quantity as the builder writes it -> our name. A series may name its array: "harvest of south field".
QUANTITIES = {"sun": "ghi", "beam": "dni", "sky": "dhi", "air": "air", "wind": "wind"}
SERIES = ("plane", "harvest")

# Unit -> what one of it is, and whether it is a sum over the row's interval ("sum") or a mean rate ("mean").
_LIGHT = {
    "W/m2": (1.0, "mean"),
    "kW/m2": (1e3, "mean"),
    "Wh/m2": (1.0, "sum"),
    "kWh/m2": (1e3, "sum"),
    "J/m2": (1 / 3600, "sum"),
    "kJ/m2": (1 / 3.6, "sum"),
    "MJ/m2": (1e3 / 3.6, "sum"),
}
_POWER = {"W": (1.0, "mean"), "kW": (1e3, "mean"), "Wh": (1.0, "sum"), "kWh": (1e3, "sum")}
_WIND = {"m/s": (1.0, "mean"), "km/h": (1 / 3.6, "mean"), "kn": (1.852 / 3.6, "mean"), "mph": (1.609344 / 3.6, "mean")}
_AIR: dict[str, Callable[[FloatArray], FloatArray]] = {
    "°C": lambda v: v,
    "K": lambda v: v - 273.15,
    "°F": lambda v: (v - 32.0) / 1.8,
}
_SAME = {
    "W/m²": "W/m2",
    "kW/m²": "kW/m2",
    "Wh/m²": "Wh/m2",
    "kWh/m²": "kWh/m2",
    "J/m²": "J/m2",
    "kJ/m²": "kJ/m2",
    "MJ/m²": "MJ/m2",
    "C": "°C",
    "degC": "°C",
    "deg C": "°C",
    "F": "°F",
    "degF": "°F",
    "kt": "kn",
    "knots": "kn",
    "W/m^2": "W/m2",
    "Wh/m^2": "Wh/m2",
    "MJ/m^2": "MJ/m2",
    "kJ/m^2": "kJ/m2",
}


@dataclass(frozen=True, slots=True)
class Column:
    """A column as stated: our name of the quantity, the heading in the file, the unit."""

    name: str
    heading: str
    unit: str

    def in_si(self, values: FloatArray, step_s: int) -> FloatArray:
        """The values as W/m², W, °C or m/s; sums over a row's interval become the mean over it."""
        if self.name == "air":
            return _AIR[self.unit](values)
        scale, kind = _scales(self.name)[self.unit]
        return values * scale * (3600.0 / step_s if kind == "sum" else 1.0)


def split_heading(written: str) -> tuple[str, str]:
    """ "GHI [W/m2]" -> heading and unit."""
    found = re.fullmatch(r"(.*?)\s*\[([^\[\]]*)\]\s*", written)
    return (found[1].strip(), found[2].strip()) if found else (written.strip(), "")


def known_name(quantity: str) -> str | None:
    """Our name of a quantity that a builder may write, or None."""
    words = " ".join(quantity.split())
    if words in QUANTITIES:
        return QUANTITIES[words]
    return words if words in SERIES or words.startswith(tuple(f"{s} of " for s in SERIES)) else None


def known_unit(name: str, unit: str) -> str | None:
    """The unit in our spelling when it fits the quantity, else None."""
    spelt = _SAME.get(unit, unit)
    return spelt if spelt in (_AIR if name == "air" else _scales(name)) else None


def units_of(name: str) -> str:
    """Units that fit a quantity, for a message."""
    units: Iterable[str] = _AIR if name == "air" else _scales(name)
    return ", ".join(units)


def _scales(name: str) -> dict[str, tuple[float, str]]:
    if name == "wind":
        return _WIND
    return _POWER if name.startswith("harvest") else _LIGHT
