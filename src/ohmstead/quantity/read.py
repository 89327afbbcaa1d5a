"""Text to SI floats. The usual spelling takes one match and one look-up; all else goes the long way."""

import re

from ohmstead.quantity.complaint import complaint
from ohmstead.quantity.faults import QuantityError, quoted
from ohmstead.quantity.phrase import is_phrase, read_phrase
from ohmstead.quantity.span import Span
from ohmstead.quantity.term import read_term, tidy
from ohmstead.quantity.units import DECIMAL, DIMENSIONS

__all__ = ["QuantityError", "read_number", "read_span"]

_PLAIN = re.compile(r"\s*([+-]?[0-9]{0,12}\.?[0-9]{1,12})\s*(.*?)\s*").fullmatch


def read_number(text: str, dimension: str) -> float:
    """One value with its unit, in the base unit of the dimension.

    Refuses ranges and tolerances, a missing or foreign unit, and a comma with two readings, with a
    `QuantityError` that says what to write instead.

    >>> read_number("2.6 mΩ", "resistance")
    0.0026
    >>> read_number("1,6 m", "length")
    1.6
    """
    found = _PLAIN(text)
    if found is not None:
        power = DECIMAL[dimension].get(found[2])
        if power is not None:
            return float(found[1] + power)
    clean = tidy(text, dimension)
    if is_phrase(clean, dimension):
        noun = DIMENSIONS[dimension].noun
        raise complaint(dimension, f"{noun} is wanted, '{quoted(clean)}' is a range or has a tolerance",
                        "write a single value")
    return read_term(clean, dimension)


def read_span(text: str, dimension: str) -> Span:
    """One value, a range or a value with a tolerance, in the base unit of the dimension.

    >>> span = read_span("10..32 V", "voltage")
    >>> span.low, span.nominal, span.high
    (10.0, 21.0, 32.0)
    """
    found = _PLAIN(text)
    if found is not None:
        power = DECIMAL[dimension].get(found[2])
        if power is not None:
            return Span.exact(float(found[1] + power))
    return read_phrase(tidy(text, dimension), dimension)
