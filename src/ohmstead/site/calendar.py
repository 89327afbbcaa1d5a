"""Days of the week and months of the year in words: `mon-fri`, `sat and sun`, `nov-feb`."""

import re

from .guess import did_you_mean, quoted
from .nodes import Node
from .problems import refuse

DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
          "November", "December")  # fmt: skip
_GROUPS = {"weekdays": (0, 1, 2, 3, 4), "weekends": (5, 6), "weekend": (5, 6)}
_DASH = r"\s*(?:-|–|\.\.|\bto\b)\s*"


def days_of(words: str, node: Node, label: str) -> tuple[int, ...]:
    """Days of the week, 0 is Monday; a stretch may run over Sunday. Raises Refusal."""
    found: set[int] = set()
    for piece in re.split(r"\s*(?:\+|\band\b)\s*", words.strip()):
        found |= set(_GROUPS.get(piece.lower(), ()) or _stretch(piece, DAYS, "a day of the week", node, label))
    return tuple(sorted(found))


def months_of(words: str, node: Node, label: str) -> tuple[int, ...]:
    """Months of the year, 1 is January; a stretch may run over New Year. Raises Refusal."""
    found: set[int] = set()
    for piece in re.split(r"\s*(?:\+|\band\b)\s*", words.strip()):
        found |= {number + 1 for number in _stretch(piece, MONTHS, "a month", node, label)}
    return tuple(sorted(found))


def _stretch(words: str, names: tuple[str, ...], what: str, node: Node, label: str) -> list[int]:
    ends = [_number(word, names, what, node, label) for word in re.split(_DASH, words, maxsplit=1)]
    count = (ends[-1] - ends[0]) % len(names) + 1
    return [(ends[0] + step) % len(names) for step in range(count)]


def _number(word: str, names: tuple[str, ...], what: str, node: Node, label: str) -> int:
    short = word.strip().lower().rstrip(".")
    plural = short.removesuffix("s") if what != "a month" else short
    for number, name in enumerate(names):
        if any(len(form) >= 3 and name.lower().startswith(form) for form in (short, plural)):
            return number
    few = "mon-fri" if what != "a month" else "nov-feb"
    refuse(
        node.place,
        f"{label}: {quoted(word.strip())} is not {what}",
        f"{what} by name, or a stretch such as {few}",
        did_you_mean(word.strip(), names, f"write {few}"),
    )
