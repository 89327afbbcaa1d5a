"""Plain text with rules, columns and, where a terminal reads it, colour. Signs never depend on colour."""

import os
import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

WIDTH = 96
INK = {
    "danger": "1;97;41",
    "fails": "1;31",
    "tight": "33",
    "fine": "32",
    "quiet": "2",
    "strong": "1",
    "title": "1;36",
    "accepted": "2",
}


@dataclass(frozen=True, slots=True)
class Paper:
    """Where text goes: `colour` is "yes" or "no"."""

    colour: str = "no"

    def ink(self, text: str, style: str) -> str:
        """Text in a style, plain without colour."""
        return f"\x1b[{INK[style]}m{text}\x1b[0m" if self.colour == "yes" else text

    def rule(self, sign: str = "─") -> str:
        """A line across the sheet."""
        return self.ink(sign * WIDTH, "quiet")


def paper(wish: str) -> Paper:
    """Colour as wished: "always", "never", or "auto" (a terminal reads and NO_COLOR is not set)."""
    reads = sys.stdout.isatty() and not os.environ.get("NO_COLOR")
    return Paper("yes" if wish == "always" or (wish == "auto" and reads) else "no")


def wrapped(text: str, indent: int, width: int = WIDTH) -> list[str]:
    """A text broken at spaces, every line indented."""
    lines, line = [], ""
    for word in text.split():
        if line and indent + len(line) + 1 + len(word) > width:
            lines.append(" " * indent + line)
            line = word
        else:
            line = f"{line} {word}" if line else word
    return [*lines, " " * indent + line] if line else lines


def columns(head: Sequence[str], rows: Iterable[Sequence[str]], right: Iterable[int] = ()) -> list[str]:
    """A table with aligned columns; `right` names the columns aligned to the right."""
    body = [list(row) for row in rows]
    table = [list(head), *body]
    widths = [max(len(row[i]) for row in table) for i in range(len(head))]
    flush = set(right)
    lines = []
    for row in table:
        sized = enumerate(zip(row, widths, strict=True))
        cells = [cell.rjust(w) if i in flush else cell.ljust(w) for i, (cell, w) in sized]
        lines.append("  ".join(cells).rstrip())
    lines.insert(1, "  ".join("─" * w for w in widths))
    return lines
