"""Reads ranges and tolerances: "10..32 V", "19 V ± 2 %", "19 V +5 % -2 %"."""

import re

from .complaint import complaint, not_finite
from .faults import quoted
from .span import Span
from .term import LARGEST, read_term, split_term, unit_of
from .units import DIMENSIONS

_PLUS_MINUS = re.compile(r" ?(?:±|\+/-|-/\+|\+-) ?")
_RANGE_MARK = re.compile(r" ?(?:\.\.|…|–|—|\bto\b) ?")
_HYPHEN = re.compile(r"([0-9.,]+(?: ?[^\s\-+0-9.,eE][^\-+]*?)?) ?- ?([0-9][^\-+]*)")
_SIDE = r" ?([+-]) ?([0-9.,]+) ?([^0-9+\-/]*)"
_BOTH_SIDES = re.compile(rf"(.*[^ +-]){_SIDE}/?{_SIDE}")
_ONE_SIDE = re.compile(r"(.*[^ +\-]) ?(?:\+ ?([0-9].*)|- ?([0-9.,]+ ?%))")


def read_phrase(text: str, dimension: str) -> Span:
    """A value, a range or a value with tolerance, from tidy text."""
    sides = _tolerance(text, dimension)
    if sides is not None:
        return _with_tolerance(*sides, dimension=dimension)
    ends = _ends(text, dimension)
    if ends is not None:
        return _range(*ends, dimension=dimension)
    return Span.exact(read_term(text, dimension))


def refuse_phrase(text: str, dimension: str) -> None:
    """Raises the message for a range or a tolerance where a single value is wanted."""
    noun = DIMENSIONS[dimension].noun.partition(" ")[2]
    if _tolerance(text, dimension) is not None:
        raise complaint(dimension, f"a single {noun} is wanted, '{quoted(text)}' has a tolerance")
    if _ends(text, dimension) is not None:
        raise complaint(dimension, f"a single {noun} is wanted, '{quoted(text)}' is a range")


def _tolerance(text: str, dimension: str) -> tuple[str, str, str] | None:
    """Value, tolerance upwards and tolerance downwards, each as text."""
    parts = _PLUS_MINUS.split(text, maxsplit=1)
    if len(parts) == 2:
        return parts[0], parts[1], parts[1]
    if "+" not in text[1:] and "%" not in text:
        return None
    found = _BOTH_SIDES.fullmatch(text)
    if found is not None and found[2] != found[5]:
        first, second = f"{found[3]} {found[4] or found[7]}".strip(), f"{found[6]} {found[7]}".strip()
        return (found[1], first, second) if found[2] == "+" else (found[1], second, first)
    one = _ONE_SIDE.fullmatch(text)
    if one is not None and dimension != "share" and one[1][-1] not in "eE":
        mend = f"write {one[1]} ± {one[2]}" if one[2] else f"write {one[1]} +0 % -{one[3]}"
        raise complaint(dimension, f"'{quoted(text)}' gives a tolerance to one side only", mend)
    return None


def _ends(text: str, dimension: str) -> tuple[str, str] | None:
    """The two ends of a range, each as text."""
    if "..." in text:
        raise complaint(dimension, f"'{quoted(text)}' has too many points", "write a range with two: 10..32")
    parts = _RANGE_MARK.split(text, maxsplit=1)
    if len(parts) == 2 and parts[0]:
        return parts[0], parts[1]
    found = _HYPHEN.fullmatch(text)
    return (found[1], found[2]) if found else None


def _range(low_text: str, high_text: str, dimension: str) -> Span:
    low_unit, high_unit = unit_of(low_text, dimension), unit_of(high_text, dimension)
    if low_unit and not high_unit:
        number = low_text.removesuffix(low_unit).rstrip()
        problem = f"the unit of a range stands at its end, not in '{quoted(low_text)}..{quoted(high_text)}'"
        raise complaint(dimension, problem, f"write {number}..{high_text} {low_unit}")
    borrowed = f"{low_text} {high_unit}" if high_unit and not low_unit else low_text
    low, high = read_term(borrowed, dimension), read_term(high_text, dimension)
    if low > high and high_unit == "AWG":  # the trade names gauges in either order
        low, high = high, low
    if low > high:
        problem = f"the range '{quoted(low_text)}..{quoted(high_text)}' runs downwards"
        if low_unit or not high_unit:
            raise complaint(dimension, problem, f"write {high_text}..{low_text}")
        number = high_text.removesuffix(high_unit).rstrip()
        raise complaint(dimension, problem, f"write {number}..{low_text} {high_unit}")
    return Span.between(low, high)


def _with_tolerance(value_text: str, up_text: str, down_text: str, dimension: str) -> Span:
    noun = DIMENSIONS[dimension].noun
    if dimension in ("share", "count"):
        raise complaint(dimension, f"{noun} takes a range, not a tolerance", "write the lowest..the highest")
    if value_text and _ends(value_text, dimension) is not None:
        mend = "write the range with the tolerance already in it"
        raise complaint(dimension, "a range and a tolerance together", mend)
    unit = unit_of(up_text, dimension)
    if unit not in ("", "%") and not split_term(value_text, dimension)[3]:
        value_text = f"{value_text} {unit}"
    nominal = read_term(value_text, dimension)
    up, down = _spread(up_text, nominal, dimension), _spread(down_text, nominal, dimension)
    if unit == "%" and down > abs(nominal):
        problem = f"a tolerance of -{quoted(down_text)} is more than the value itself"
        raise complaint(dimension, problem, "write a smaller tolerance, or a range")
    if not (nominal + up <= LARGEST and nominal - down >= -LARGEST):
        raise not_finite(value_text, dimension)
    return Span(nominal - down, nominal, nominal + up, "percent" if unit == "%" else "amount")


def _spread(text: str, nominal: float, dimension: str) -> float:
    """One side of a tolerance, in the base unit."""
    if text[:1] in ("-", "+", "–"):
        raise complaint(dimension, f"the tolerance '{quoted(text)}' has a sign of its own", "write ± once: ± 2 %")
    unit = unit_of(text, dimension)
    noun, example = DIMENSIONS[dimension].noun, DIMENSIONS[dimension].examples[0]
    if unit == "%":
        if dimension == "temperature":
            mend = f"write the tolerance in K: {example} ± 3 K"
            raise complaint(dimension, "a tolerance in % has no meaning for a temperature", mend)
        return read_term(text, "share") * abs(nominal)
    if unit == "AWG":
        raise complaint(dimension, "the tolerance of a gauge is a share of its area", "write 10 AWG ± 2 %")
    if not unit and dimension != "number":
        number = quoted(text)
        choices = f"± {number} % or ± {number} {DIMENSIONS[dimension].suggest[0]}"
        choices = f"± {number} K" if dimension == "temperature" else choices
        raise complaint(dimension, f"the tolerance of {noun} needs a unit", f"write {choices}")
    return read_term(text, "temperature difference" if dimension == "temperature" else dimension)
