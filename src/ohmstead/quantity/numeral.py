"""The digits of a number: a decimal comma is read, anything with two readings is refused."""

import re

from .complaint import complaint
from .faults import QuantityError, quoted

_POINT = re.compile(r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+")
_COMMA = re.compile(r"([0-9]*),([0-9]+)")
_GROUPED = re.compile(r"([0-9]{1,3}(?:([ _',.])[0-9]{3})(?:\2[0-9]{3})*)(?:([.,])([0-9]+))?")


def with_point(digits: str, unit: str, dimension: str) -> str:
    """The digits with a decimal point. `unit` and `dimension` only serve the message of a refusal.

    One comma is a decimal comma, unless it could as well part thousands: "1,600" is refused,
    "1,6", "1,60", "0,125" and "1600,125" are read.
    """
    if _POINT.fullmatch(digits):
        return digits
    comma = _COMMA.fullmatch(digits)
    if comma is None:
        raise _not_plain(digits, unit, dimension)
    whole, part = comma.groups()
    if len(part) == 3 and 0 < len(whole) < 4 and whole[0] != "0":
        small = f"{whole}.{part}".rstrip("0").rstrip(".") + f" {unit}".rstrip()
        large = f"{whole}{part} {unit}".rstrip()
        problem = f"'{digits}' can be read as {small} or as {large}"
        raise complaint(dimension, problem, f"write {small} or {large}, with a point and without thousands marks")
    return f"{whole}.{part}"


def _not_plain(digits: str, unit: str, dimension: str) -> QuantityError:
    grouped = _GROUPED.fullmatch(digits)
    if grouped is None:
        return complaint(dimension, f"'{quoted(digits)}' is not a number")
    whole = "".join(sign for sign in grouped[1] if sign in "0123456789")
    plain = f"{whole}.{grouped[4]}" if grouped[4] else whole
    problem = f"'{quoted(digits)}' has marks between its thousands"
    return complaint(dimension, problem, f"write {plain} {unit}".rstrip())
