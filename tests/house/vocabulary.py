"""The vocabulary of docs/names.md, as the tests use it."""

import re
from functools import cache

from house.modules import ROOT

NAMES = ROOT / "docs" / "names.md"


def _rows(text: str, heading: str) -> list[list[str]]:
    """Cells of the table below a heading, without its head."""
    section = re.search(rf"^## {re.escape(heading)}\n(.*?)(?=^## |\Z)", text, re.M | re.S)
    lines = re.findall(r"^\|(.*)\|$", section[1] if section else "", re.M)
    return [[cell.strip() for cell in line.split("|")] for line in lines[2:]]


@cache
def endings() -> dict[str, tuple[str, ...]]:
    """`_v` -> units a docstring may give, such as ("V",)."""
    rows = _rows(NAMES.read_text(encoding="utf-8"), "Endings")
    return {row[0].strip("`"): tuple(u.strip() for u in row[1].split(",")) for row in rows}


@cache
def plain_words() -> frozenset[str]:
    """Words that may stand without a unit."""
    rows = _rows(NAMES.read_text(encoding="utf-8"), "Words that stand without a unit")
    return frozenset(word for row in rows for word in re.findall(r"`(\w+)`", row[0]))


def ending(name: str) -> str:
    """The longest known ending of a name, or an empty text. A bare `f` or `m` has none."""
    fitting = [e for e in endings() if name.endswith(e) and len(name) > len(e)]
    return max(fitting, key=len, default="")


def is_plain(name: str) -> bool:
    """True when the name is, or ends in, a word that needs no unit, or is a count."""
    return name.startswith("n_") or name in plain_words() or name.rpartition("_")[2] in plain_words()
