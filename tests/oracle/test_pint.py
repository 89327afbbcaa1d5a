"""Every unit against pint, a general library of units: same numbers, another author's table."""

from collections.abc import Callable

import pint
import pytest

from ohmstead.quantity.read import read_number
from ohmstead.quantity.units import DIMENSIONS, units_of

# Base unit of each dimension, in pint's words.
BASE = {
    "voltage": "volt", "current": "ampere", "power": "watt", "energy": "watt_hour", "charge": "ampere_hour",
    "length": "meter", "area": "millimeter**2", "resistance": "ohm", "resistance per length": "ohm/kilometer",
    "capacitance": "farad", "inductance": "henry", "temperature": "degC",
    "temperature difference": "delta_degC", "time": "second", "share": "dimensionless",
    "fuse heat": "ampere**2*second", "mass": "kilogram", "angle": "degree",
    "daily sun": "watt_hour/meter**2", "share per kelvin": "1/delta_degC",
    "opening": "meter**2", "air flow": "meter**3/second", "air pressure": "pascal", "fuel flow": "liter/hour",
    "heat per kelvin": "watt/kelvin",
    "film": "watt/meter**2/kelvin", "air speed": "meter/second",
}  # fmt: skip
# Our unit -> pint's, where pint does not know ours by the same sign.
OTHER_NAME = {
    "mm²": "millimeter**2", "kcmil": "kilocircular_mil", "Ω/kft": "ohm/kilofoot", "mΩ/ft": "milliohm/foot",
    "Ω/ft": "ohm/foot", "A²s": "ampere**2*second", "°C": "degC", "°F": "degF", "d": "day", "h": "hour",
    "min": "minute", "in": "inch", "F": "farad", "%": "percent", "Ah": "ampere_hour",
    "mAh": "milliampere_hour", "Wh": "watt_hour", "mWh": "milliwatt_hour", "kWh": "kilowatt_hour",
    "°": "degree", "Wh/m²": "watt_hour/meter**2", "kWh/m²": "kilowatt_hour/meter**2",
    "kWh/m²/d": "kilowatt_hour/meter**2", "MJ/m²": "megajoule/meter**2", "MJ/m²/d": "megajoule/meter**2",
    "%/K": "percent/delta_degC", "%/°C": "percent/delta_degC", "CFM": "foot**3/minute", "in²": "inch**2",
    "mmH2O": "millimeter_H2O", "W/K": "watt/delta_degC", "W/°C": "watt/delta_degC",
    "W/m²K": "watt/meter**2/delta_degC", "W/(m²K)": "watt/meter**2/delta_degC", "ft/min": "foot/minute",
    "m³/h": "meter**3/hour", "m³/s": "meter**3/second", "l/s": "liter/second", "l/h": "liter/hour", "L/h": "liter/hour",
    "ml/h": "milliliter/hour", "mL/h": "milliliter/hour",
    "gal/h": "gallon/hour", "gph": "gallon/hour", "L/s": "liter/second",
    "W/m²/K": "watt/meter**2/delta_degC", "W/(m²·K)": "watt/meter**2/delta_degC",
}  # fmt: skip
DIFFERENCE = {"K": "delta_degC", "°F": "delta_degF"}
NUMBERS = ("1", "0.37", "-12.5", "1234.5", "7e-3", "2.5e4")
# pint works in floats of its own and may differ in the last places.
LARGEST_DEVIATION = 1e-12


def pint_name(unit: str, dimension: str) -> str:
    if dimension == "temperature difference":
        return DIFFERENCE[unit]
    return OTHER_NAME.get(unit, unit)


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry()


@pytest.mark.parametrize("dimension", BASE)
def test_every_unit(dimension: str, registry: pint.UnitRegistry, outside: Callable[..., None]) -> None:
    worst = 0.0
    for unit in sorted(set(units_of(dimension).values()) - {"AWG"}):
        for number in NUMBERS:
            if dimension == "temperature" and unit == "K" and number.startswith("-"):
                continue
            theirs = registry.Quantity(float(number), pint_name(unit, dimension)).to(BASE[dimension]).magnitude
            ours = read_number(f"{number} {unit}", dimension)
            worst = max(worst, abs(ours - theirs) / max(abs(theirs), 1e-12))
    outside(source="pint", read="program", what=f"units of {dimension}", deviation=worst)
    # kelvin to °C loses digits in the subtraction, and is rounded to a billionth of a degree
    assert worst < (1e-9 if dimension == "temperature" else LARGEST_DEVIATION)


def test_no_dimension_is_left_out() -> None:
    assert set(DIMENSIONS) - set(BASE) == {"count", "number"}
