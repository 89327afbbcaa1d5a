"""Reads ranges and tolerances: "10..32 V", "19 V ± 2 %", "19 V +5 % -2 %"."""

import re

from ohmstead.quantity.complaint import complaint, not_finite
from ohmstead.quantity.faults import quoted
from ohmstead.quantity.span import Span
from ohmstead.quantity.term import LARGEST, read_term, split_term
from ohmstead.quantity.units import DIMENSIONS, OTHER

_PLUS_MINUS = re.compile(r"\s*(?:±|\+/-|-/\+|\+-)\s*")
_RANGE_MARK = re.compile(r"\s*(?:\.\.|…|–|—|\bto\b)\s*")
_HYPHEN = re.compile(r"([0-9.,]+(?:\s*[^\s\-+0-9eE][^\-+]*?)?)\s*-\s*([0-9][^\-+]*)")
_BOTH_SIDES = re.compile(r"(.+?)\s*([+-])\s*([0-9.,]+)\s*([^0-9+\-/]*?)\s*/?\s*([+-])\s*([0-9.,]+)\s*([^0-9+\-/]*)")


def read_phrase(text: str, dimension: str) -> Span:
    """A value, a range or a value with tolerance, from tidy text."""
    sides = _tolerance(text)
    if sides is not None:
        return _with_tolerance(*sides, dimension=dimension)
    ends = _ends(text, dimension)
    if ends is not None:
        return _range(text, *ends, dimension=dimension)
    return Span.exact(read_term(text, dimension))


def is_phrase(text: str, dimension: str) -> bool:
    """Is this tidy text written as a range or with a tolerance?"""
    return _tolerance(text) is not None or _ends(text, dimension) is not None


def _tolerance(text: str) -> tuple[str, str, str] | None:
    """Value, tolerance upwards and downwards, each as text."""
    parts = _PLUS_MINUS.split(text, maxsplit=1)
    if len(parts) == 2:
        return parts[0], parts[1], parts[1]
    found = _BOTH_SIDES.fullmatch(text)
    if found is None or found[2] == found[5]:
        return None
    first, second = f"{found[3]} {found[4] or found[7]}".strip(), f"{found[6]} {found[7]}".strip()
    return (found[1], first, second) if found[2] == "+" else (found[1], second, first)


def _ends(text: str, dimension: str) -> tuple[str, str] | None:
    """The two ends of a range, each as text."""
    if "..." in text:
        raise complaint(dimension, f"'{quoted(text)}' has too many points", "write a range with two points: 10..32")
    parts = _RANGE_MARK.split(text, maxsplit=1)
    if len(parts) == 2 and parts[0]:
        return parts[0], parts[1]
    found = _HYPHEN.fullmatch(text)
    return (found[1], found[2]) if found else None


def _unit_of(text: str, dimension: str) -> str:
    return "AWG" if "AWG" in text.upper() else split_term(text, dimension)[3]


def _range(text: str, low_text: str, high_text: str, dimension: str) -> Span:
    unit = _unit_of(high_text, dimension)
    if unit and not _unit_of(low_text, dimension):
        low_text = f"{low_text} {unit}"
    low, high = read_term(low_text, dimension), read_term(high_text, dimension)
    if low > high and unit == "AWG":
        low, high = high, low
    if low > high:
        raise complaint(dimension, f"the range {quoted(text)} runs downwards", f"write {high_text} first, then the larger")
    return Span.between(low, high)


def _with_tolerance(value_text: str, up_text: str, down_text: str, dimension: str) -> Span:
    if dimension in ("share", "count"):
        raise complaint(dimension, f"{DIMENSIONS[dimension].noun} takes a range, not a tolerance", "write a range: low..high")
    if _ends(value_text, dimension) is not None:
        raise complaint(dimension, "a range and a tolerance together", "write the range with the tolerance already in it")
    unit = _unit_of(up_text, dimension)
    if unit and unit != "%" and not _unit_of(value_text, dimension):
        value_text = f"{value_text} {unit}"
    nominal = read_term(value_text, dimension)
    up, down = _spread(up_text, nominal, dimension), _spread(down_text, nominal, dimension)
    if not (nominal + up <= LARGEST and nominal - down >= -LARGEST):
        raise not_finite(value_text, dimension)
    return Span(nominal - down, nominal, nominal + up, "percent" if unit == "%" else "amount")


def _spread(text: str, nominal: float, dimension: str) -> float:
    """One side of a tolerance, in the base unit."""
    if text[:1] in ("-", "+"):
        raise complaint(dimension, f"the tolerance '{quoted(text)}' has a sign of its own", "write ± once: 19 V ± 2 %")
    unit = _unit_of(text, dimension)
    if unit == "%":
        if dimension == "temperature":
            raise complaint(dimension, "a share of a temperature has no meaning", "write the tolerance in K: 25 °C ± 3 K")
        share = read_term(text, "share")
        if share > 1:
            raise complaint(dimension, f"a tolerance of {quoted(text)} is more than the value itself")
        return share * abs(nominal)
    if not unit and dimension != "number":
        first = DIMENSIONS[dimension].suggest[0]
        raise complaint(dimension, "the tolerance needs a unit", f"write ± {quoted(text)} % or ± {quoted(text)} {first}")
    if dimension == "temperature" and (unit in OTHER["temperature difference"] or unit in ("°C", "C", "K")):
        return read_term(text, "temperature difference")
    return read_term(text, dimension)
