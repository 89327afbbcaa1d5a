"""The keys of a mapping with their values: none twice, and no value torn apart by a comma."""

import re

from .guess import quoted
from .nodes import Node, Scalar, broken
from .problems import Problem

Entries = dict[str, tuple[Scalar, Node]]
_CLOCK = r"(?:[0-9]{1,2}:[0-9]{2}|dusk|dawn)"
_NO_SPACE = r"([A-Za-z][A-Za-z -]*):(\S.*)"


def paired(keys: list[Node], values: list[Node], style: str, text: str) -> tuple[Entries, list[Problem]]:
    """The entries of a mapping, and what is wrong with them. Keys that are no text were told already."""
    entries: Entries = {}
    problems: list[Problem] = []
    previous = ""
    for key, value in zip(keys, values, strict=True):
        if not isinstance(key, Scalar):
            continue
        name = key.text
        if "  " in name or not name.isprintable():
            name = " ".join(name.split())
        if style == "flow" and value.__class__ is Scalar and not value.text and value.style == "plain":
            before = entries.get(previous)
            torn = _torn(key, before, text) if before is not None else None
            if torn is not None and before is not None:
                problems.append(torn)
                entries[previous] = (before[0], broken(before[1], key))
                continue
            found = re.fullmatch(_NO_SPACE, key.text)
            if found and key.style == "plain":
                problems.append(_no_space(key, found[1], found[2]))
                name, value = found[1], broken(key, value)
        if name in entries:
            problems.append(_twice(key, entries[name][0]))
        else:
            entries[name] = (key, value)
            previous = name
    return entries, problems


def _twice(key: Scalar, first: Scalar) -> Problem:
    return Problem(
        key.place,
        f"{quoted(key.text)} is written twice here, first in line {first.line}",
        "each key once",
        f"remove this one or the one in line {first.line}, or give it another name",
    )


def _no_space(key: Scalar, name: str, rest: str) -> Problem:
    what = f"a space is missing after the colon of {quoted(name)}"
    return Problem(key.place, what, "a key, a colon, a space and a value", f"write {name}: {rest}")


def _torn(key: Scalar, before: tuple[Scalar, Node], text: str) -> Problem | None:
    """The problem when a key without value is the rest of the value before it, cut off by a comma."""
    label, old = before[0].text, before[1]
    if not isinstance(old, Scalar) or not old.text:
        return None
    place = broken(old, key).place
    if re.match(_CLOCK, old.text) and re.match(_CLOCK, key.text):
        return Problem(
            place,
            f"the comma ends the value of {quoted(label)} inside braces",
            "several windows as a list",
            f"write {label}: [{old.text}, {key.text}]",
        )
    touching = text[old.end : key.start] == ","
    if not (touching and old.text[-1].isdigit() and key.text[:1].isdigit()):
        return None
    mend = f"write {label}: {old.text}.{key.text}, or put the value in quotes: '{old.text},{key.text}'"
    digits = key.text.split()[0]
    if len(digits) == 3 and digits.isdigit():
        mend = (
            f"write {label}: {old.text}{key.text} if thousands are meant, {old.text}.{key.text} if the comma is decimal"
        )
    return Problem(
        place,
        f"the comma splits the value of {quoted(label)} inside braces",
        "a decimal point, or the value in quotes",
        mend,
    )
