"""The table of dimensions and their units.

A decimal unit is kept as a power of ten that is appended to the digits, so that "2.6 mΩ" is exactly
the float 0.0026. Any other unit is (shift, times, over): base value = (number + shift) · times / over.
The first name in each row is the one that messages propose; the others are read as well.
"""

from dataclasses import dataclass
from itertools import product

from .gauge import KCMIL_MM2


@dataclass(frozen=True, slots=True)
class Dimension:
    """How a dimension is named in messages, an example of each way to write it, and units to propose."""

    noun: str
    examples: tuple[str, ...]
    suggest: tuple[str, ...] = ()


DIMENSIONS: dict[str, Dimension] = {
    "voltage": Dimension("a voltage", ("25.6 V", "350 mV"), ("V",)),
    "current": Dimension("a current", ("5 A", "12 mA"), ("A", "mA")),
    "power": Dimension("a power", ("24 W", "1.2 kW"), ("W",)),
    "energy": Dimension("an energy", ("850 Wh", "5.9 kWh"), ("Wh", "kWh")),
    "charge": Dimension("a charge", ("230 Ah", "800 mAh"), ("Ah",)),
    "length": Dimension("a length", ("1.6 m", "5 ft"), ("m", "ft")),
    "area": Dimension("an area", ("2.5 mm²", "10 AWG"), ("mm²", "AWG")),
    "resistance": Dimension("a resistance", ("2.6 mΩ", "0.1 ohm"), ("mΩ", "Ω")),
    "resistance per length": Dimension("a resistance per length", ("13.3 Ω/km", "4.1 mohm/ft"), ("Ω/km",)),
    "capacitance": Dimension("a capacitance", ("2200 µF", "0.5 F"), ("µF",)),
    "inductance": Dimension("an inductance", ("22 µH", "1 mH"), ("µH",)),
    "temperature": Dimension("a temperature", ("25 °C", "77 °F"), ("°C", "°F")),
    "temperature difference": Dimension("a temperature difference", ("15 K", "27 °F"), ("K",)),
    "time": Dimension("a time", ("40 s", "5 min", "2 h"), ("s", "min", "h")),
    "share": Dimension("a share", ("93 %", "0.93"), ("%",)),
    "count": Dimension("a whole number", ("4",)),
    "number": Dimension("a number without unit", ("1.25",)),
    "fuse heat": Dimension("a fuse heat (I²t)", ("120 A²s",), ("A²s",)),
    "mass": Dimension("a mass", ("3.2 kg", "7 lb"), ("kg", "lb")),
    "angle": Dimension("an angle", ("35°", "180 deg"), ("°",)),
    "daily sun": Dimension("the sun of a day", ("3.4 kWh/m²", "12 MJ/m²"), ("kWh/m²", "MJ/m²")),
    "share per kelvin": Dimension("a change per kelvin", ("-0.35 %/K",), ("%/K",)),
    "opening": Dimension("a free area", ("60 cm²", "12 in²"), ("cm²", "in²")),
    "air flow": Dimension("a flow of air", ("50 m³/h", "30 CFM"), ("m³/h", "CFM")),
    "fuel flow": Dimension("a flow of fuel", ("0.6 l/h", "0.2 gal/h"), ("l/h", "gal/h")),
    "air pressure": Dimension("a pressure", ("25 Pa", "2.5 mmH2O"), ("Pa", "mmH2O")),
    "heat per kelvin": Dimension("a heat per kelvin", ("3.2 W/K",), ("W/K",)),
    "film": Dimension("a film coefficient", ("5 W/m²K",), ("W/m²K",)),
    "air speed": Dimension("a speed of air", ("1 m/s", "200 ft/min"), ("m/s",)),
}

_POWERS: dict[str, dict[int, tuple[str, ...]]] = {
    "voltage": {0: ("V", "v", "VDC", "Vdc", "V DC", "volt", "volts"), -3: ("mV",), -6: ("µV",), 3: ("kV",)},
    "current": {0: ("A", "a", "amp", "amps", "ampere", "amperes"), -3: ("mA",), -6: ("µA",), 3: ("kA",)},
    "power": {0: ("W", "w", "watt", "watts"), -3: ("mW",), -6: ("µW",), 3: ("kW",)},
    "energy": {0: ("Wh", "wh"), -3: ("mWh",), 3: ("kWh",)},
    "charge": {0: ("Ah", "ah"), -3: ("mAh",)},
    "length": {0: ("m", "metre", "metres", "meter", "meters"), -3: ("mm",), -2: ("cm",), 3: ("km",)},
    "area": {0: ("mm²", "sqmm", "sq mm", "mm sq")},
    "resistance": {0: ("Ω",), -3: ("mΩ",), -6: ("µΩ",), 3: ("kΩ",), 6: ("MΩ",)},
    "resistance per length": {0: ("Ω/km", "mΩ/m"), 3: ("Ω/m",), -3: ("mΩ/km", "µΩ/m")},
    "capacitance": {0: ("F",), -3: ("mF",), -6: ("µF",), -9: ("nF",), -12: ("pF",)},
    "inductance": {0: ("H",), -3: ("mH",), -6: ("µH",), -9: ("nH",)},
    "temperature": {0: ("°C", "° C", "C")},
    "temperature difference": {0: ("K", "°C", "° C", "C")},
    "time": {0: ("s", "sec", "second", "seconds"), -3: ("ms",), -6: ("µs",)},
    "share": {-2: ("%", "percent")},
    "count": {},
    "number": {0: ("",)},
    "fuse heat": {0: ("A²s", "A² s", "A²·s")},
    "mass": {0: ("kg",), -3: ("g",)},
    "angle": {0: ("°",)},
    "daily sun": {0: ("Wh/m²",), 3: ("kWh/m²", "kWh/m²/d")},
    "share per kelvin": {-2: ("%/K", "%/°C")},
    "opening": {0: ("m²",), -4: ("cm²",)},
    "air flow": {0: ("m³/s",), -3: ("l/s", "L/s")},
    "fuel flow": {0: ("l/h", "L/h"), -3: ("ml/h", "mL/h")},
    "air pressure": {0: ("Pa",), 3: ("kPa",)},
    "heat per kelvin": {0: ("W/K", "W/°C")},
    "film": {0: ("W/m²K", "W/(m²K)", "W/m²/K", "W/(m²·K)")},
    "air speed": {0: ("m/s",)},
}  # fmt: skip

Affine = tuple[float, float, float]
_AFFINE: dict[str, dict[tuple[str, ...], Affine]] = {
    "length": {
        ("ft", "feet", "foot", "'"): (0.0, 0.3048, 1.0),
        ("in", "inch", "inches", '"'): (0.0, 0.0254, 1.0),
    },
    "area": {("kcmil", "MCM"): (0.0, KCMIL_MM2, 1.0)},
    "resistance per length": {
        ("Ω/kft", "Ω/1000ft", "Ω/1000 ft"): (0.0, 1.0, 0.3048),
        ("mΩ/ft",): (0.0, 1.0, 0.3048),
        ("Ω/ft",): (0.0, 1000.0, 0.3048),
    },
    "temperature": {
        ("°F", "° F", "F"): (-32.0, 5.0, 9.0),
        ("K",): (-273.15, 1.0, 1.0),
    },
    "temperature difference": {("°F", "° F", "F"): (0.0, 5.0, 9.0)},
    "time": {
        ("min", "minute", "minutes"): (0.0, 60.0, 1.0),
        ("h", "hr", "hour", "hours"): (0.0, 3600.0, 1.0),
        ("d", "day", "days"): (0.0, 86400.0, 1.0),
    },
    "mass": {("lb", "lbs"): (0.0, 0.45359237, 1.0)},
    "daily sun": {("MJ/m²", "MJ/m²/d"): (0.0, 1000.0, 3.6)},
    "opening": {("in²", "sqin", "sq in"): (0.0, 0.00064516, 1.0)},
    "fuel flow": {("gal/h", "gph"): (0.0, 3.785411784, 1.0)},
    "air flow": {("m³/h",): (0.0, 1.0, 3600.0), ("CFM", "cfm"): (0.0, 0.028316846592, 60.0)},
    "air pressure": {("mmH2O",): (0.0, 9.80665, 1.0)},
    "air speed": {("ft/min", "fpm"): (0.0, 0.00508, 1.0)},
}

_VARIANTS = {
    "µ": ("µ", "\u03bc", "u"),
    "Ω": ("Ω", "\u2126", "ohm", "ohms", "Ohm"),
    "²": ("²", "2", "^2"),
    "³": ("³", "3", "^3"),
    "°": ("°", "\u00ba", "deg"),
}


def _spellings(unit: str) -> list[str]:
    """Every way to type one unit: both code points of µ and Ω, "u", "ohm", "2" for "²"."""
    if not any(sign in _VARIANTS for sign in unit):
        return [unit]
    return ["".join(signs) for signs in product(*(_VARIANTS.get(sign, (sign,)) for sign in unit))]


DECIMAL: dict[str, dict[str, str]] = {
    dimension: {
        spelling: f"e{power}" if power else ""
        for power, names in by_power.items()
        for name in names
        for spelling in _spellings(name)
    }
    for dimension, by_power in _POWERS.items()
}
"""Dimension -> unit as typed -> the power of ten to append to the digits."""

AFFINE: dict[str, dict[str, Affine]] = {
    dimension: {
        spelling: affine
        for names, affine in _AFFINE.get(dimension, {}).items()
        for name in names
        for spelling in _spellings(name)
    }
    for dimension in DIMENSIONS
}
"""Dimension -> unit as typed -> (shift, times, over)."""


def units_of(dimension: str) -> dict[str, str]:
    """Every accepted spelling of the units of a dimension, each with the spelling that messages propose."""
    rows = (*_POWERS[dimension].values(), *_AFFINE.get(dimension, {}))
    known = {spelling: names[0] for names in rows for name in names for spelling in _spellings(name)}
    return known | {"AWG": "AWG"} if dimension == "area" else known


def dimension_of(unit: str) -> str | None:
    """The first dimension that knows this unit, or None."""
    for dimension in DIMENSIONS:
        if unit in DECIMAL[dimension] or unit in AFFINE[dimension]:
            return dimension
    return "area" if unit == "AWG" else None
