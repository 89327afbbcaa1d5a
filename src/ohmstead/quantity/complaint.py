"""Builds the messages for text that cannot be read. Only reached on failure, so it may take its time."""

from ohmstead.quantity.faults import QuantityError, quoted
from ohmstead.quantity.units import DIMENSIONS, dimension_of, units_of


def _example(dimension: str) -> str:
    return DIMENSIONS[dimension].such_as.partition(" or ")[0].partition(", ")[0].partition(" (")[0]


def complaint(dimension: str, problem: str, mend: str = "") -> QuantityError:
    """A message for one dimension; without a cure it proposes the usual example."""
    known = DIMENSIONS[dimension]
    return QuantityError(problem, f"{known.noun} such as {known.such_as}", mend or f"write {_example(dimension)}")


def not_a_number(text: str, dimension: str) -> QuantityError:
    """The text does not begin with a number, or holds something besides number and unit."""
    noun = DIMENSIONS[dimension].noun
    if not text:
        return complaint(dimension, f"{noun} is missing")
    return complaint(dimension, f"'{quoted(text)}' cannot be read as {noun}")


def not_finite(text: str, dimension: str) -> QuantityError:
    """The number is too large or too small to hold."""
    return complaint(dimension, f"'{quoted(text)}' is too large or too small to be {DIMENSIONS[dimension].noun}")


def unit_fault(number: str, unit: str, dimension: str) -> QuantityError:
    """The unit is missing, of another dimension, misspelt, or unknown."""
    known = DIMENSIONS[dimension]
    if not unit:
        first, *others = known.suggest
        also = "".join(f" (or {number} {other})" for other in others[:1])
        return complaint(dimension, f"{dimension} needs a unit", f"write {number} {first}{also}")
    if any(sign in "0123456789" for sign in unit) and dimension_of(unit) is None and " " in unit:
        return complaint(dimension, f"'{quoted(number + ' ' + unit)}' holds more than {known.noun}")
    other = dimension_of(unit)
    if other is not None:
        return _other_dimension(number, unit, other, dimension)
    close = _close_units(unit, dimension)
    if close:
        meant = " or ".join(close)
        return complaint(dimension, f"'{quoted(unit)}' is not a unit; did you mean {meant}?",
                         f"write {number} {close[0]}")
    if not known.suggest:
        return complaint(dimension, f"{known.noun} is wanted, '{quoted(unit)}' does not belong", f"write {number}")
    return complaint(dimension, f"'{quoted(unit)}' is not a unit of {dimension}", f"write {number} {known.suggest[0]}")


def _other_dimension(number: str, unit: str, other: str, dimension: str) -> QuantityError:
    problem = f"{DIMENSIONS[dimension].noun} is wanted, {number} {unit} is {DIMENSIONS[other].noun}"
    if dimension == "area" and unit == "mm":
        return complaint(dimension, problem, f"write {number} mm² if that is the area of the copper")
    return complaint(dimension, problem)


def _close_units(unit: str, dimension: str) -> list[str]:
    """Spellings the builder may have meant: wrong case first, then near misses."""
    known = units_of(dimension)
    wrong_case = [name for name in known if name.lower() == unit.lower()]
    if wrong_case:
        return wrong_case[:2]
    from difflib import get_close_matches

    return get_close_matches(unit, known, n=1, cutoff=0.6)
