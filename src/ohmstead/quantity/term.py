"""Reads one number with its unit, in every accepted spelling; refuses what has two readings."""

import re

from ohmstead.quantity.complaint import complaint, not_a_number, not_finite, unit_fault
from ohmstead.quantity.faults import QuantityError, quoted
from ohmstead.quantity.gauge import THINNEST, gauge_area_mm2, gauge_number
from ohmstead.quantity.units import DECIMAL, OTHER

LONGEST_TEXT = 120
LARGEST = 1e300

_TERM = re.compile(r"([+-]?)\s*([0-9.,]+(?:[ _'][0-9.,]+)*)(?:[eE]([+-]?[0-9]+))?\s*(.*)")
_POINT = re.compile(r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+")
_COMMA = re.compile(r"([0-9]*),([0-9]+)")
_GROUPED = re.compile(r"([0-9]{1,3}(?:([ _',.])[0-9]{3})(?:\2[0-9]{3})*)(?:([.,])([0-9]+))?")
_FEET_INCHES = re.compile(r"([0-9]+)\s*(?:'|ft|feet|foot)\s*([0-9]+(?:\.[0-9]+)?)\s*(?:\"|in|inch|inches)")
_SPACES = dict.fromkeys("\t\n\r\u00a0\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f", " ")
_TIDY = str.maketrans(_SPACES | {
    "\u2212": "-", "\u03bc": "µ", "\u2126": "Ω", "\u00ba": "°", "\u02da": "°", "\u2103": "°C", "\u2109": "°F",
    "\u2019": "'", "\u2032": "'", "\u201d": '"', "\u2033": '"',
})


def tidy(text: str, dimension: str) -> str:
    """The text with one form of each sign: spaces, minus, µ, Ω, °, feet and inch marks."""
    if len(text) > LONGEST_TEXT:
        raise complaint(dimension, f"'{quoted(text)}' is too long to be one value")
    clean = text.translate(_TIDY).strip()
    return "-" + clean[1:].lstrip() if clean[:1] in ("–", "—") else clean


def split_term(text: str, dimension: str) -> tuple[str, str, str, str]:
    """Sign, digits, exponent and unit of tidy text; refused when it does not begin with a number."""
    found = _TERM.fullmatch(text)
    if found is None:
        raise not_a_number(text, dimension)
    sign, digits, exponent, unit = found.groups()
    return sign, digits, exponent or "0", unit


def read_term(text: str, dimension: str) -> float:
    """One number with its unit, from tidy text, in the base unit of the dimension."""
    if dimension == "area" and "AWG" in text.upper():
        return _read_gauge(text)
    if dimension == "length":
        feet_inches = _FEET_INCHES.fullmatch(text)
        if feet_inches:
            return float(feet_inches[1]) * 0.3048 + float(feet_inches[2]) * 0.0254
    sign, digits, exponent, unit = split_term(text, dimension)
    plain = sign + _plain_digits(digits, unit, dimension)
    if dimension == "count":
        return _read_count(plain, exponent, unit)
    if dimension == "share" and not unit:
        return _read_bare_share(plain, exponent, text)
    power = DECIMAL[dimension].get(unit)
    if power is not None:
        value = float(f"{plain}e{int(exponent) + int(power[1:] or 0)}")
    elif unit in OTHER[dimension]:
        shift, times, over = OTHER[dimension][unit]
        value = (float(f"{plain}e{exponent}") + shift) * times / over
    else:
        raise unit_fault(plain if exponent == "0" else f"{plain}e{exponent}", unit, dimension)
    underflow = value == 0 and any(digit in "123456789" for digit in plain) and unit not in OTHER[dimension]
    if not -LARGEST <= value <= LARGEST or underflow:
        raise not_finite(text, dimension)
    if dimension == "temperature" and value < -273.15 - 1e-9:
        raise complaint(dimension, f"{quoted(text)} is below the coldest possible, -273.15 °C")
    return value


def _read_gauge(text: str) -> float:
    gauge = gauge_number(text)
    if gauge is None or gauge > THINNEST:
        raise complaint("area", f"'{quoted(text)}' is not a wire gauge (4/0 to {THINNEST} AWG)", "write 10 AWG or 2/0 AWG")
    return gauge_area_mm2(gauge)


def _read_count(plain: str, exponent: str, unit: str) -> float:
    if unit:
        raise unit_fault(plain, unit, "count")
    if exponent != "0" or not plain.isdigit():
        raise complaint("count", f"{plain} is not a whole number of things", "write a whole number such as 4")
    value = float(plain)
    if value > 1e15:
        raise not_finite(plain, "count")
    return value


def _read_bare_share(plain: str, exponent: str, text: str) -> float:
    value = float(f"{plain}e{exponent}")
    if not 0 <= value <= 1:
        raise complaint("share", f"a share without % lies between 0 and 1, not {quoted(text)}", f"write {quoted(text)} %")
    return value


def _plain_digits(digits: str, unit: str, dimension: str) -> str:
    """The digits with a decimal point; refuses grouped thousands and a comma with two readings."""
    if _POINT.fullmatch(digits):
        return digits
    comma = _COMMA.fullmatch(digits)
    if comma:
        whole, part = comma.groups()
        if len(part) != 3 or not 0 < len(whole) < 4 or whole[0] == "0":
            return f"{whole}.{part}"
        small, large = f"{whole}.{part.rstrip('0') or '0'} {unit}".strip(), f"{whole}{part} {unit}".strip()
        raise complaint(dimension, f"'{digits}' can be read as {small} or as {large}",
                        f"write {small} or {large}, with a decimal point and no thousands mark")
    raise _grouped(digits, unit, dimension)


def _grouped(digits: str, unit: str, dimension: str) -> QuantityError:
    grouped = _GROUPED.fullmatch(digits)
    if grouped is None:
        return complaint(dimension, f"'{quoted(digits)}' is not a number")
    whole = "".join(sign for sign in grouped[1] if sign.isdigit())
    plain = whole + (f".{grouped[4]}" if grouped[4] else "")
    return complaint(dimension, f"'{quoted(digits)}' has a mark between its thousands", f"write {plain} {unit}".rstrip())
