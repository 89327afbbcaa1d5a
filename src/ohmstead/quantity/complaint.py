"""Builds the messages for text that cannot be read. Only reached on failure, so it may take its time."""

from .faults import QuantityError, quoted
from .units import DIMENSIONS, dimension_of, units_of

# Spellings that mean different things to different people: text of the message, and the cure.
_TWO_MEANINGS: dict[tuple[str, str], tuple[str, str]] = {
    ("fuse heat", "kA²s"): ("kA²s is used for 1000 A²s and for 1000000 A²s", "write it in A²s: 1.2e3 A²s"),
    ("area", "gauge"): ("a gauge can be AWG or the thinner SAE size", "write 10 AWG, or the area in mm²"),
}  # fmt: skip
_SAME = {"kA2s": "kA²s", "kA^2s": "kA²s", "ga": "gauge", "SAE": "gauge", "swg": "gauge", "SWG": "gauge"}

_USUAL = {
    "": "write a number and its unit",
    "count": "write a whole number",
    "number": "write a number alone",
}


def complaint(dimension: str, problem: str, mend: str = "") -> QuantityError:
    """A message for one dimension; without a cure it proposes the usual example."""
    known = DIMENSIONS[dimension]
    *first, last = known.examples
    expected = f"{known.noun} such as {', '.join(first)} or {last}" if first else f"{known.noun} such as {last}"
    return QuantityError(problem, expected, mend or f"{_USUAL.get(dimension, _USUAL[''])}, as in {known.examples[0]}")


def not_a_number(text: str, dimension: str) -> QuantityError:
    """The text does not begin with a number."""
    noun = DIMENSIONS[dimension].noun
    if not text:
        return complaint(dimension, f"{noun} is missing")
    return complaint(dimension, f"'{quoted(text)}' cannot be read as {noun}")


def not_finite(text: str, dimension: str) -> QuantityError:
    """The number is too large or too small to hold."""
    noun = DIMENSIONS[dimension].noun
    return complaint(dimension, f"'{quoted(text)}' is too large or too small to be {noun}")


def unit_fault(number: str, unit: str, dimension: str) -> QuantityError:
    """The unit is missing, of another dimension, misspelt, or unknown."""
    if not unit:
        return _no_unit(number, dimension)
    two = _TWO_MEANINGS.get((dimension, _SAME.get(unit, unit)))
    if two is not None:
        return complaint(dimension, *two)
    known, typed = DIMENSIONS[dimension], quoted(f"{number} {unit}")
    first_word, _, rest = unit.partition(" ")
    if rest and first_word in units_of(dimension):
        return complaint(dimension, f"'{typed}' holds more than {known.noun}", f"write {number} {first_word} alone")
    meant = _meant(unit, dimension)
    other = dimension_of(unit)
    if other is not None:
        return _other_dimension(number, unit, other, dimension, meant)
    if meant:
        problem = f"'{quoted(unit)}' is not a unit; did you mean {' or '.join(meant)}?"
        return complaint(dimension, problem, f"write {number} {meant[0]}")
    if not known.suggest:
        return complaint(dimension, f"{known.noun} is wanted, not '{typed}'", f"write {number} alone")
    return complaint(dimension, f"'{quoted(unit)}' is not a unit of {dimension}")


def _no_unit(number: str, dimension: str) -> QuantityError:
    first, *others = DIMENSIONS[dimension].suggest
    also = f" (or {number} {others[0]})" if others else ""
    return complaint(dimension, f"{dimension} needs a unit", f"write {number} {first}{also}")


def _other_dimension(number: str, unit: str, other: str, dimension: str, meant: list[str]) -> QuantityError:
    problem = f"{DIMENSIONS[dimension].noun} is wanted, {number} {unit} is {DIMENSIONS[other].noun}"
    if dimension == "area" and unit == "mm":
        return complaint(dimension, problem, f"write {number} mm² if that is the area of the copper")
    if meant:
        return complaint(dimension, problem, f"did you mean {number} {meant[0]}?")
    return complaint(dimension, problem)


def _meant(unit: str, dimension: str) -> list[str]:
    """Units the builder may have meant: those of another case, else the nearest spelling."""
    known = units_of(dimension)
    wrong_case = [meant for spelling, meant in known.items() if spelling.lower() == unit.lower()]
    if wrong_case:
        return list(dict.fromkeys(wrong_case))[:2]
    if dimension_of(unit) is not None:
        return []
    from difflib import get_close_matches

    return [known[near] for near in get_close_matches(unit, known, n=1, cutoff=0.65)]
