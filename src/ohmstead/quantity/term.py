"""Reads one number with its unit, in every accepted spelling."""

import re

from .complaint import complaint, not_a_number, not_finite, unit_fault
from .faults import QuantityError, quoted
from .gauge import THINNEST, gauge_area_mm2, gauge_number
from .numeral import with_point
from .units import AFFINE, DECIMAL, Affine

LONGEST_TEXT = 80
LARGEST = 1e300
ABSOLUTE_ZERO_C = -273.15

_TERM = re.compile(r"([+-]?) ?([0-9.,]+(?:[ _'][0-9.,]+)*)(?:[eE]([+-]?[0-9]+))? ?(.*)")
_FEET_INCHES = re.compile(r"([0-9]+) ?(?:'|ft|feet|foot) ?([0-9]+(?:\.[0-9]+)?) ?(?:\"|in|inch|inches)")
_FRACTION = re.compile(r"/ ?([1-9][0-9]*)(?![0-9]) ?(.*)")
_ONE_FORM = str.maketrans({
    "\u2212": "-", "\u03bc": "µ", "\u2126": "Ω", "\u00ba": "°", "\u02da": "°", "\u2103": "°C", "\u2109": "°F",
    "\u2019": "'", "\u2032": "'", "\u201d": '"', "\u2033": '"',
})  # fmt: skip


def tidy(text: str, dimension: str) -> str:
    """The text with one form of each sign: single spaces, minus, µ, Ω, °, feet and inch marks."""
    if len(text) > LONGEST_TEXT:
        raise complaint(dimension, f"'{quoted(text)}' is too long to be one value")
    return _leading_minus(" ".join(text.translate(_ONE_FORM).split()))


def _leading_minus(text: str) -> str:
    """A dash in front of a number can only be a minus."""
    return "-" + text[1:].lstrip() if text[:1] in ("–", "—") else text


def split_term(text: str, dimension: str) -> tuple[str, str, str, str]:
    """Sign, digits, exponent and unit of tidy text; refused when it does not begin with a number."""
    found = _TERM.fullmatch(_leading_minus(text))
    if found is None:
        raise not_a_number(text, dimension)
    sign, digits, exponent, unit = found.groups()
    return sign, digits, exponent or "0", unit.replace(" /", "/").replace("/ ", "/")


def unit_of(text: str, dimension: str) -> str:
    """The unit at the end of tidy text, "" when there is none."""
    return "AWG" if dimension == "area" and "AWG" in text.upper() else split_term(text, dimension)[3]


def read_term(text: str, dimension: str) -> float:
    """One number with its unit, from tidy text, in the base unit of the dimension."""
    if dimension == "area" and "AWG" in text.upper():
        return _gauge(text)
    if dimension == "length":
        feet_inches = _FEET_INCHES.fullmatch(text)
        if feet_inches:
            return float(feet_inches[1]) * 0.3048 + float(feet_inches[2]) * 0.0254
    sign, digits, exponent, unit = split_term(text, dimension)
    plain = sign + with_point(digits, unit, dimension)
    if dimension == "count":
        return _count(plain, exponent, unit)
    if dimension == "share" and not unit:
        return _bare_share(plain, exponent, text)
    power, affine = DECIMAL[dimension].get(unit), AFFINE[dimension].get(unit)
    if power is not None:
        number = value = float(f"{plain}e{int(exponent) + int(power[1:] or 0)}")
    elif affine is not None:
        number = float(f"{plain}e{exponent}")
        value = converted(number, affine)
    else:
        raise _unknown_unit(plain if exponent == "0" else f"{plain}e{exponent}", unit, dimension)
    vanished = number == 0 and any(digit in "123456789" for digit in plain)
    if vanished or not -LARGEST <= value <= LARGEST:
        raise not_finite(text, dimension)
    if value < ABSOLUTE_ZERO_C and dimension == "temperature":
        raise complaint(dimension, f"{quoted(text)} is below absolute zero, {ABSOLUTE_ZERO_C} °C")
    return value


def converted(number: float, affine: Affine) -> float:
    """A number in a unit that is no power of ten of the base unit, brought to the base unit."""
    shift, times, over = affine
    value = (number + shift) * times / over
    return round(value, 9) if shift else value


def _unknown_unit(number: str, unit: str, dimension: str) -> QuantityError:
    fraction = _FRACTION.fullmatch(unit)
    if fraction is None:
        return unit_fault(number, unit, dimension)
    share = f"{float(number) / int(fraction[1]):.4g}"
    return complaint(dimension, f"'{number}{quoted(unit)}' is a fraction", f"write {share} {fraction[2]}".rstrip())


def _gauge(text: str) -> float:
    gauge = gauge_number(text)
    if gauge is None or gauge > THINNEST:
        problem = f"'{quoted(text)}' is not a wire gauge (4/0 to {THINNEST} AWG)"
        raise complaint("area", problem, "write 10 AWG or 2/0 AWG")
    return gauge_area_mm2(gauge)


def _count(plain: str, exponent: str, unit: str) -> float:
    if unit:
        raise unit_fault(plain, unit, "count")
    if exponent != "0" or not plain.isdigit():
        raise complaint("count", f"{quoted(plain)} is not a whole number of things")
    if len(plain) > 15:
        raise not_finite(plain, "count")
    return float(plain)


def _bare_share(plain: str, exponent: str, text: str) -> float:
    value = float(f"{plain}e{exponent}")
    if not 0 <= value <= 1:
        problem = f"a share without % lies between 0 and 1, {quoted(text)} does not"
        raise complaint("share", problem, f"write {quoted(text)} %")
    return value
