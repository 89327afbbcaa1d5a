"""How the text of a value is read: one reader a form, found by the words before ':' of the declaration."""

import re
from collections.abc import Callable
from typing import Any

from ..quantity.faults import QuantityError
from ..quantity.read import read_number, read_span
from ..quantity.span import Span
from .bounds import bounds_of, check_bounds
from .declare import Field
from .examples import example
from .guess import did_you_mean, quoted
from .nodes import Node, Scalar, text_of
from .pieces import Air
from .problems import Problem, Refusal, refuse

Reader = Callable[[Node, str, Field], Any]
"""Takes the node, the label that messages use, and the declaration; raises Refusal."""

_DATE = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"
_STUD = r"M\s?([0-9]{1,2}(?:\.[0-9])?)"
_INCH_STUD = r"([1-9])/(2|4|8|16)\s*(?:in|inch|\")"
_RISE = r"(.*\S)\s+([+-])\s+(\S.*)"
_COLDEST_C, _HOTTEST_C = -90.0, 200.0
_SLUG = r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*"


def said(label: str, problem: str) -> str:
    """A problem of a value, beginning with the key it belongs to."""
    return problem if problem.startswith(label) else f"{label}: {problem}"


def number_in(words: str, dimension: str, node: Node, label: str) -> float:
    """One value with its unit, bounds not looked at."""
    try:
        return read_number(words, dimension)
    except QuantityError as fault:
        raise Refusal(Problem(node.place, said(label, fault.problem), fault.expected, fault.mend)) from None


def span_in(words: str, dimension: str, node: Node, label: str) -> Span:
    """A value, a range or a value with its tolerance, bounds not looked at."""
    try:
        return read_span(words, dimension)
    except QuantityError as fault:
        raise Refusal(Problem(node.place, said(label, fault.problem), fault.expected, fault.mend)) from None


def words_of(node: Node, label: str, dimension: str) -> str:
    """The text of a quantity; what is wrong with an empty one the quantity reader says best."""
    if node.__class__ is Scalar:
        return node.text
    from ..quantity.units import DIMENSIONS

    known = DIMENSIONS[dimension]
    return text_of(node, label, f"{known.noun} such as {known.examples[0]}", known.examples[0])


def number(node: Node, label: str, field: Field) -> float | int:
    """number:<dimension>, one value."""
    dimension = field.form.partition(":")[2]
    value = number_in(words_of(node, label, dimension), dimension, node, label)
    check_bounds(value, dimension, bounds_of(field.bounds, dimension), label, node)
    return int(value) if dimension == "count" else value


def span(node: Node, label: str, field: Field) -> Span:
    """span:<dimension>, a value, a range or a tolerance; only a window may begin at zero."""
    dimension = field.form.partition(":")[2]
    value = span_in(words_of(node, label, dimension), dimension, node, label)
    check_bounds(value.high, dimension, bounds_of(field.bounds, dimension), label, node)
    if value.low != value.high:
        check_bounds(value.low, dimension, bounds_of(field.bounds or "0 or more", dimension), label, node)
    return value


def word(node: Node, label: str, field: Field) -> str:
    """word:a|b|c, one of a few words."""
    words = field.form.partition(":")[2].split("|")
    text = text_of(node, label, "one of: " + ", ".join(words), words[0])
    if text in words:
        return text
    meant = {"true": "yes", "on": "yes", "false": "no", "off": "no"}.get(text.lower(), "") if "yes" in words else ""
    otherwise = f"write {label}: {meant or words[0]}"
    refuse(
        node.place,
        f"{label} cannot be {quoted(text)}",
        "one of: " + ", ".join(words),
        otherwise if meant else did_you_mean(text, words, otherwise),
    )


def text(node: Node, label: str, field: Field) -> str:
    """Any text in one line."""
    return text_of(node, label, "a line of text", example(field))


def slug(node: Node, label: str, field: Field) -> str:
    """The name of a rule: lower-case words joined by hyphens."""
    found = text_of(node, label, "the name of a rule", "fuse-over-cable")
    if re.fullmatch(_SLUG, found):
        return found
    tidied = re.sub(r"[^a-z0-9]+", "-", found.lower()).strip("-") or "fuse-over-cable"
    refuse(
        node.place,
        f"{quoted(found)} is not the name of a rule",
        "lower-case words joined by hyphens",
        f"write it as the report does, such as {tidied}",
    )


def date(node: Node, label: str, field: Field) -> str:
    """A day of the calendar, kept as text."""
    found = text_of(node, label, "a date", "2028-01-01")
    if re.fullmatch(_DATE, found):
        from datetime import date as day

        try:
            day.fromisoformat(found)
            return found
        except ValueError:
            refuse(
                node.place,
                f"{label}: there is no day {found}",
                "a date such as 2028-01-31",
                "check month and day, in the order year-month-day",
            )
    refuse(
        node.place,
        f"{label}: {quoted(found)} is not a date",
        "year-month-day, such as 2028-01-31",
        f"write {label}: 2028-01-31",
    )


def stud(node: Node, label: str, field: Field) -> float:
    """The thread of a stud. [mm]"""
    found = text_of(node, label, "a thread such as M8", "M8")
    metric = re.fullmatch(_STUD, found)
    if metric and 2 <= float(metric[1]) <= 24:
        return float(metric[1])
    inch = re.fullmatch(_INCH_STUD, found)
    if inch and 0.1 < int(inch[1]) / int(inch[2]) < 1:
        return int(inch[1]) / int(inch[2]) * 25.4
    refuse(
        node.place,
        f"{label}: {quoted(found)} is not a stud size",
        "a thread such as M6, M8 or 5/16 in",
        f"write {label}: M8",
    )


def _is_temperature(words: str) -> bool:
    """Does this begin with a figure that could be a temperature? Otherwise it names a zone."""
    if words[0] not in "+-−0123456789.":
        return False
    try:
        read_number(words if words[-1] in "CFK" else f"{words} °C", "temperature")
        return True
    except QuantityError:
        return False


def air(node: Node, label: str, field: Field) -> Air:
    """Coldest and hottest air, or a rise above another zone's."""
    found = text_of(node, label, "air such as -8..24 °C", "-8..24 °C")
    if found == "from heat":
        return Air(made="heat")
    rise = re.fullmatch(_RISE, found)
    if rise and not _is_temperature(rise[1]):
        if rise[2] == "-":
            refuse(
                node.place,
                "air cannot be stated below another zone's",
                "a rise, such as loft + 8 K",
                "state the coldest and hottest air, such as air: -8..24 °C",
            )
        kelvin = number_in(rise[3], "temperature difference", node, label)
        check_bounds(kelvin, "temperature difference", bounds_of("0 or more", ""), "the rise of air", node)
        return Air(above=rise[1], rise_k=kelvin)
    low_high = span_in(found, "temperature", node, label)
    if low_high.low < _COLDEST_C or low_high.high > _HOTTEST_C:
        refuse(
            node.place,
            f"{label} from {low_high.low:g} to {low_high.high:g} °C is not air on this earth",
            "air such as -8..24 °C",
            "check the numbers and the unit",
        )
    return Air(low_c=low_high.low, high_c=low_high.high)
