"""Where a value stands in the file and how it came to be known."""

from typing import NamedTuple


class Place(NamedTuple):
    """A stretch of the site file: 1-based line and column, 0-based character indexes.

    Line 0 means the file as a whole, when nothing in it can be pointed at.
    """

    file: str
    line: int
    column: int
    start: int
    end: int

    def __str__(self) -> str:
        return f"{self.file}, line {self.line}" if self.line else self.file


class Origin(NamedTuple):
    """How a value came to be known.

    how: "stated" (the builder wrote it), "table" (looked up; note names the source), "assumed"
    (a default; note says which and why), "choose" (left open by the builder), "plan" (taken from the plan of
    the mounting plate), "missing".
    """

    how: str
    note: str = ""
    place: Place | None = None


def place_at(text: str, start: int, end: int, file: str) -> Place:
    """The place of a stretch of text, counted from its character indexes."""
    before = text[:start].replace("\r\n", " \n").replace("\r", "\n")
    line, begin = before.count("\n") + 1, before.rfind("\n") + 1
    if line == 1 and text.startswith("\ufeff"):
        begin = min(1, start)  # a byte-order mark is no column
    return Place(file, line, start - begin + 1, start, max(end, start))
