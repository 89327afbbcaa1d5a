"""The table of dimensions and their units.

A decimal unit is kept as a power of ten that is appended to the digits, so that "2.6 mΩ" is exactly
the float 0.0026. Other units are (shift, times, over): base value = (number + shift) · times / over.
"""

from dataclasses import dataclass
from itertools import product

from ohmstead.quantity.gauge import KCMIL_MM2


@dataclass(frozen=True, slots=True)
class Dimension:
    """How a dimension is named in messages, and the units that a message proposes."""

    noun: str
    such_as: str
    suggest: tuple[str, ...]


DIMENSIONS: dict[str, Dimension] = {
    "voltage": Dimension("a voltage", "25.6 V or 350 mV", ("V",)),
    "current": Dimension("a current", "5 A or 12 mA", ("A", "mA")),
    "power": Dimension("a power", "24 W or 1.2 kW", ("W",)),
    "energy": Dimension("an energy", "850 Wh or 5.9 kWh", ("Wh", "kWh")),
    "charge": Dimension("a charge", "230 Ah or 800 mAh", ("Ah",)),
    "length": Dimension("a length", "1.6 m or 5 ft", ("m", "ft")),
    "area": Dimension("an area", "2.5 mm² or 10 AWG", ("mm²", "AWG")),
    "resistance": Dimension("a resistance", "2.6 mΩ or 0.1 ohm", ("mΩ", "Ω")),
    "resistance per length": Dimension("a resistance per length", "13.3 Ω/km or 4.1 mohm/ft", ("Ω/km",)),
    "capacitance": Dimension("a capacitance", "2200 µF or 0.5 F", ("µF",)),
    "inductance": Dimension("an inductance", "22 µH or 1 mH", ("µH",)),
    "temperature": Dimension("a temperature", "25 °C or 77 °F", ("°C", "°F")),
    "temperature difference": Dimension("a temperature difference", "15 K or 27 °F", ("K",)),
    "time": Dimension("a time", "40 s, 5 min or 2 h", ("s", "min", "h")),
    "share": Dimension("a share", "93 % or 0.93", ("%",)),
    "count": Dimension("a count", "4 (a whole number, no unit)", ()),
    "number": Dimension("a number without unit", "1.25", ()),
    "fuse heat": Dimension("a fuse heat (I²t)", "120 A²s", ("A²s",)),
    "mass": Dimension("a mass", "3.2 kg or 7 lb", ("kg", "lb")),
}

_DECIMAL: dict[str, dict[int, str]] = {
    "voltage": {0: "V|v|VDC|Vdc|V DC|volt|volts", -3: "mV", -6: "µV", 3: "kV"},
    "current": {0: "A|a|ADC|A DC|amp|amps|ampere|amperes", -3: "mA", -6: "µA", 3: "kA"},
    "power": {0: "W|w|watt|watts", -3: "mW", -6: "µW", 3: "kW|kw"},
    "energy": {0: "Wh|wh", -3: "mWh", 3: "kWh|kwh"},
    "charge": {0: "Ah|ah", -3: "mAh"},
    "length": {0: "m|metre|metres|meter|meters", -3: "mm", -2: "cm", 3: "km"},
    "area": {0: "mm²|sqmm|sq mm|mm sq"},
    "resistance": {0: "Ω", -3: "mΩ", -6: "µΩ", 3: "kΩ", 6: "MΩ"},
    "resistance per length": {0: "Ω/km|mΩ/m", 3: "Ω/m", -3: "mΩ/km|µΩ/m"},
    "capacitance": {0: "F", -3: "mF", -6: "µF", -9: "nF", -12: "pF"},
    "inductance": {0: "H", -3: "mH", -6: "µH", -9: "nH"},
    "temperature": {0: "°C|° C|C"},
    "temperature difference": {0: "K|°C|° C|C", -3: "mK"},
    "time": {0: "s|sec|second|seconds", -3: "ms", -6: "µs"},
    "share": {-2: "%|percent"},
    "count": {},
    "number": {0: ""},
    "fuse heat": {0: "A²s|A² s|A²·s"},
    "mass": {0: "kg", -3: "g"},
}

OTHER: dict[str, dict[str, tuple[float, float, float]]] = {name: {} for name in DIMENSIONS} | {
    "length": {
        **dict.fromkeys(("ft", "feet", "foot", "'"), (0.0, 0.3048, 1.0)),
        **dict.fromkeys(("in", "inch", "inches", '"'), (0.0, 0.0254, 1.0)),
    },
    "area": dict.fromkeys(("kcmil", "MCM"), (0.0, KCMIL_MM2, 1.0)),
    "resistance per length": {
        **dict.fromkeys(("Ω/kft", "ohm/kft", "Ω/1000ft", "ohm/1000ft"), (0.0, 1.0, 0.3048)),
        **dict.fromkeys(("mΩ/ft", "mohm/ft"), (0.0, 1.0, 0.3048)),
        **dict.fromkeys(("Ω/ft", "ohm/ft"), (0.0, 1000.0, 0.3048)),
    },
    "temperature": {
        **dict.fromkeys(("°F", "° F", "F", "degF"), (-32.0, 5.0, 9.0)),
        "K": (-273.15, 1.0, 1.0),
    },
    "temperature difference": dict.fromkeys(("°F", "° F", "F", "degF"), (0.0, 5.0, 9.0)),
    "time": {
        **dict.fromkeys(("min", "minute", "minutes"), (0.0, 60.0, 1.0)),
        **dict.fromkeys(("h", "hr", "hour", "hours"), (0.0, 3600.0, 1.0)),
        **dict.fromkeys(("d", "day", "days"), (0.0, 86400.0, 1.0)),
    },
    "mass": {"lb": (0.0, 0.45359237, 1.0)},
}

_VARIANTS = {
    "µ": ("µ", "\u03bc", "u"),
    "Ω": ("Ω", "\u2126", "ohm", "Ohm", "ohms"),
    "²": ("²", "2", "^2"),
    "°": ("°", "\u00ba", "deg"),
}


def _spellings(unit: str) -> list[str]:
    """Every way to type one unit: both code points of µ and Ω, "u", "ohm", "2" for "²"."""
    return ["".join(signs) for signs in product(*(_VARIANTS.get(sign, (sign,)) for sign in unit))]


DECIMAL: dict[str, dict[str, str]] = {
    dimension: {
        spelling: f"e{power}" if power else ""
        for power, units in by_power.items()
        for unit in units.split("|")
        for spelling in _spellings(unit)
    }
    for dimension, by_power in _DECIMAL.items()
}
"""Per dimension: unit as typed -> the power of ten to append to the digits."""


def units_of(dimension: str) -> tuple[str, ...]:
    """Every accepted spelling of the units of a dimension."""
    names = (*DECIMAL[dimension], *OTHER[dimension])
    return (*names, "AWG") if dimension == "area" else names


def dimension_of(unit: str) -> str | None:
    """The first dimension that knows this unit, or None."""
    for dimension in DIMENSIONS:
        if unit in DECIMAL[dimension] or unit in OTHER[dimension]:
            return dimension
    return "area" if unit == "AWG" else None
