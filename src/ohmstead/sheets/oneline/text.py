"""How wide lettering is, and how it is broken into lines.

The drawing is lettered in a monospaced face, so that its widths are known without asking a printer: DejaVu
Sans Mono advances 1233 of 2048 units for every sign (its `hmtx` table), and the other faces of the family
list are not wider. Signs of East Asian scripts take two places, combining signs none.
"""

from functools import cache
from unicodedata import combining, east_asian_width

FAMILY = "'DejaVu Sans Mono', Menlo, Consolas, 'Liberation Mono', monospace"
PLACE_EM = 1233 / 2048
BODY = 2.1  # size of the lettering [mm]
SMALL = 1.7
LINE = 2.6  # from base line to base line
RISE = 0.78  # top of the tallest sign above the base line, in sizes
LONGEST = 16  # places in a name or a line of figures before it is broken
MORE = "…"


@cache
def places(text: str) -> int:
    """How many places of a monospaced face a text takes."""
    if text.isascii():
        return len(text)
    return sum(0 if combining(sign) else 2 if east_asian_width(sign) in "WF" else 1 for sign in text)


def text_width(text: str, size: float = BODY, weight: str = "") -> float:
    """Width of a text; a bold face has the same advance. [mm]"""
    return places(text) * size * PLACE_EM


def clipped(text: str, most: int) -> str:
    """At most so many places of a text, the cut marked."""
    if places(text) <= most:
        return text
    kept = ""
    for sign in text:
        if places(kept + sign) > most - 1:
            break
        kept += sign
    return kept.rstrip() + MORE


def broken(text: str, most: int = LONGEST, rows: int = 2) -> tuple[str, ...]:
    """A name in at most so many lines, broken at spaces where it has them.

    >>> broken("the north mast camera")
    ('the north mast', 'camera')
    """
    lines: list[str] = []
    for word in text.split():
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and places(joined) <= most:
            lines[-1] = joined
        else:
            lines.append(word)
    lines = lines or [text.strip()]
    if len(lines) > rows:
        lines = [*lines[: rows - 1], " ".join(lines[rows - 1 :])]
    return tuple(clipped(line, most) for line in lines)


def shortened(number: float) -> str:
    """A length as short as three decimals allow: "12.5", "3", "0.002"."""
    text = f"{number:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
