"""Text to SI floats. The usual spelling takes one match and one look-up; all else goes the long way."""

import re

from .faults import QuantityError
from .phrase import read_phrase, refuse_phrase
from .span import Span
from .term import ABSOLUTE_ZERO_C, converted, read_term, tidy
from .units import AFFINE, DECIMAL

__all__ = ["QuantityError", "read_number", "read_span"]

_PLAIN = re.compile(r"\s*([+-]?[0-9]{0,12}\.?[0-9]{1,12})\s*(\S*)\s*").fullmatch


def read_number(text: str, dimension: str) -> float:
    """One value with its unit, in the base unit of the dimension.

    Refuses ranges and tolerances, a missing or foreign unit, and a comma with two readings, with a
    `QuantityError` that says what to write instead.

    >>> read_number("2.6 mΩ", "resistance")
    0.0026
    >>> read_number("1,6 m", "length")
    1.6
    """
    value = _usual(text, dimension)
    if value is not None:
        return value
    clean = tidy(text, dimension)
    refuse_phrase(clean, dimension)
    return read_term(clean, dimension)


def read_span(text: str, dimension: str) -> Span:
    """One value, a range or a value with a tolerance, in the base unit of the dimension.

    >>> span = read_span("10..32 V", "voltage")
    >>> span.low, span.nominal, span.high
    (10.0, 21.0, 32.0)
    """
    value = _usual(text, dimension)
    if value is not None:
        return Span.exact(value)
    return read_phrase(tidy(text, dimension), dimension)


def _usual(text: str, dimension: str) -> float | None:
    """The value when it is a plain number with a unit of the dimension, else None."""
    found = _PLAIN(text)
    if found is None:
        return None
    number, unit = found.groups()
    power = DECIMAL[dimension].get(unit)
    if power is not None:
        value = float(number + power)
    elif unit in AFFINE[dimension]:
        value = converted(float(number), AFFINE[dimension][unit])
    else:
        return None
    return None if value < ABSOLUTE_ZERO_C and dimension == "temperature" else value
