"""Where a value stands in the file and how it came to be known."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Place:
    """A stretch of the site file: 1-based line and column, 0-based character indexes."""

    file: str
    line: int
    column: int
    start: int
    end: int

    def __str__(self) -> str:
        return f"{self.file}, line {self.line}"


@dataclass(frozen=True, slots=True)
class Origin:
    """How a value came to be known.

    how: "stated" (the builder wrote it), "table" (looked up; note names the source), "assumed"
    (a default; note says which and why), "choose" (left open by the builder), "missing".
    """

    how: str
    note: str = ""
    place: Place | None = None
