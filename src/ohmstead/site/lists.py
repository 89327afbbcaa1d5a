"""Readers of values in a row: twelve of a year, months, a skyline, columns of a file, names of arrays."""

import re

from ..quantity.units import units_of
from .bounds import bounds_of, check_bounds
from .declare import Field
from .electrical import each
from .forms import number_in
from .guess import did_you_mean, quoted
from .nodes import Node, Scalar, Sequence, entries_of, items_of, text_of
from .problems import refuse

MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
          "November", "December")  # fmt: skip
_MOST_POINTS = 720


def twelve(node: Node, label: str, field: Field) -> tuple[float, ...]:
    """twelve:<dimension>, one value for each month: a list, or twelve numbers and their unit on one line."""
    values = _row(node, label, field)
    if len(values) != 12:
        _not_twelve(node, label, len(values), "twelve values, January first")
    return values


def one_or_twelve(node: Node, label: str, field: Field) -> tuple[float, ...]:
    """one or twelve:<dimension>, the same all year or one for each month."""
    values = _row(node, label, field)
    if len(values) not in (1, 12):
        _not_twelve(node, label, len(values), "one value, or twelve, January first")
    return values


def _not_twelve(node: Node, label: str, found: int, expected: str) -> None:
    mend = "count them" if found < 12 else "take out what is not a month, such as a mean of the year"
    refuse(node.place, f"{label} holds {found} values for the months", expected, mend)


def _row(node: Node, label: str, field: Field) -> tuple[float, ...]:
    """A list of values with units, or numbers on one line with one unit behind the last."""
    dimension = field.form.partition(":")[2]
    bounds = bounds_of(field.bounds, dimension)
    if isinstance(node, Sequence):
        shown = "[0.4 kWh/m², 1 kWh/m², ...]" if dimension == "daily sun" else "[3 %, 5 %, ...]"
        texts = [(item, text_of(item, f"{label}, {number}", "a value with its unit", shown))
                 for number, item in enumerate(node.items, 1)]  # fmt: skip
    else:
        words = text_of(node, label, "values of the months, and their unit", "0.4 1.0 2.2 ... 0.3 with the unit")
        texts = [(node, piece) for piece in _pieces(words, dimension)]

    def one(numbered: tuple[int, tuple[Node, str]]) -> float:
        number, (item, words) = numbered
        name = f"{label}, {MONTHS[number - 1]}" if len(texts) == 12 else label
        value = number_in(words, dimension, item, name)
        check_bounds(value, dimension, bounds, name, item)
        return value

    return tuple(each(enumerate(texts, 1), one))


def _pieces(words: str, dimension: str) -> list[str]:
    """ "0.4 1.0 0.3 kWh/m²" -> each number with the unit."""
    known = sorted(units_of(dimension), key=len, reverse=True)
    unit = next((unit for unit in known if unit and words.endswith(unit)), "")
    numbers = words[: len(words) - len(unit)].replace("\N{MINUS SIGN}", "-").replace(", ", " ").split()
    return [f"{number} {unit}".rstrip() for number in numbers] or [words]


def months(node: Node, label: str, field: Field) -> tuple[int, ...]:
    """Months of the year, such as `May-October` or `[March, April]`; a stretch may run over New Year."""
    items = node.items if isinstance(node, Sequence) else [node]
    found: list[int] = []
    for item in items:
        words = text_of(item, label, "months such as May-October", "May-October")
        first, dash, last = (
            (part.strip() for part in re.split(r"(-|–|\.\.| to )", words, maxsplit=1))
            if re.search(r"-|–|\.\.| to ", words)
            else (words, "", words)
        )
        begin, end = _month(first, item, label), _month(last, item, label)
        count = (end - begin) % 12 + 1 if dash else 1
        found += [(begin - 1 + step) % 12 + 1 for step in range(count)]
    return tuple(sorted(set(found)))


def _month(word: str, node: Node, label: str) -> int:
    short = word.lower().rstrip(".")
    for number, name in enumerate(MONTHS, 1):
        if len(short) >= 3 and name.lower().startswith(short):
            return number
    refuse(
        node.place,
        f"{label}: {quoted(word)} is not a month",
        "months by name, such as May-October",
        did_you_mean(word, MONTHS, f"write {label}: May-October"),
    )


def skyline(node: Node, label: str, field: Field) -> tuple[tuple[float, float], ...]:
    """Azimuth: elevation pairs, sorted by azimuth."""
    shown = f"{label}: {{0°: 2°, 90°: 4°, 180°: 11°, 270°: 3°}}"
    entries = entries_of(node, label, shown)
    if not entries:
        refuse(node.place, f"{label} is empty", "at least one azimuth with its elevation", f"write {shown}")
    if len(entries) > _MOST_POINTS:
        refuse(node.place, f"{label} has {len(entries)} points", f"at most {_MOST_POINTS}", "leave some out")

    def one(entry: tuple[Scalar, Node]) -> tuple[float, float]:
        key, value = entry
        azimuth = number_in(key.text, "angle", key, f"{label}, azimuth")
        check_bounds(azimuth, "angle", bounds_of("0..360", "angle"), f"{label}, azimuth", key)
        words = text_of(value, f"{label} at {key.text}", "an elevation such as 4°", "4°")
        elevation = number_in(words, "angle", value, f"{label} at {key.text}")
        check_bounds(elevation, "angle", bounds_of("0..90", "angle"), f"{label} at {key.text}", value)
        return azimuth % 360.0, elevation

    points = each(entries.values(), one)
    if len({azimuth for azimuth, _ in points}) < len(points):
        refuse(node.place, f"{label} names one azimuth twice", "each azimuth once; 360° is 0°", "remove one of the two")
    return tuple(sorted(points))


def columns(node: Node, label: str, field: Field) -> dict[str, str]:
    """Quantity -> the column of the file that holds it, its unit in square brackets behind."""
    entries = entries_of(node, label, f"{label}: {{time: stamp, sun: 'GHI [W/m2]', air: 'T [°C]'}}")
    if not entries:
        refuse(node.place, f"{label} is empty", "the column of each quantity", f"write {label}: {{time: stamp, ...}}")
    return {
        name: text_of(value, f"{label}, {name}", "the heading of a column", "GHI [W/m2]")
        for name, (_, value) in entries.items()
    }


def arrays(node: Node, label: str, field: Field) -> tuple[str, ...]:
    """The name of one array, or a list of names."""
    if isinstance(node, Scalar):
        return (text_of(node, label, "the name of an array", "south field"),)
    items = items_of(node, label, f"{label}: [south field, west field]")
    found = tuple(each(items, lambda item: text_of(item, label, "the name of an array", "south field")))
    if not found:
        refuse(node.place, f"{label} is empty", "the name of an array", f"write {label}: south field")
    if len(set(found)) < len(found):
        refuse(node.place, f"{label} names one array twice", "each array once", "remove one of the two")
    return found
