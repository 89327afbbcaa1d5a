"""What the builder is told when the site file cannot be used, and how it is printed."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NoReturn

from .place import Place

MOST_PROBLEMS = 100
_WIDEST = 112  # characters of a source line that are shown


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in the file: where, what, what would have been right, what to write instead."""

    place: Place
    what: str
    expected: str
    mend: str


class SiteError(Exception):
    """The site file cannot be used. `problems` holds everything found, in the order of the lines."""

    def __init__(self, problems: Iterable[Problem], text: str = "") -> None:
        self.problems = tuple(sorted(problems, key=lambda p: (p.place.line, p.place.column)))
        self.text = text
        super().__init__(self.problems, text)

    def __str__(self) -> str:
        return render(self.problems, self.text)


class Refusal(Exception):
    """Raised while reading one value; the reader gathers the problems and goes on with the next value."""

    def __init__(self, *problems: Problem) -> None:
        super().__init__(problems)
        self.problems = problems


def refuse(place: Place, what: str, expected: str, mend: str) -> NoReturn:
    """Give up this value with one problem."""
    raise Refusal(Problem(place, what, expected, mend))


def render(problems: Iterable[Problem], text: str) -> str:
    """All problems as text for a terminal, sorted by line, each with its line of the file."""
    lines = re.split(r"\r\n|\r|\n", text.removeprefix("\ufeff"))
    ordered = sorted(problems, key=lambda p: (p.place.line, p.place.column))
    return "\n\n".join(_rendered(problem, lines) for problem in ordered)


def _rendered(problem: Problem, lines: Sequence[str]) -> str:
    place = problem.place
    shown = [f"{place}: {_clean(problem.what)}"]
    if 0 < place.line <= len(lines) and lines[place.line - 1].strip():
        shown += _pointed(place, lines[place.line - 1])
    shown += _labelled("expected", problem.expected) + _labelled("mend", problem.mend)
    return "\n".join(shown)


def _labelled(label: str, text: str) -> list[str]:
    """`   expected  text`, long text wrapped below itself."""
    from textwrap import wrap

    pieces = wrap(_clean(text), 96, break_long_words=False, break_on_hyphens=False) or [""]
    return [f"   {label:<8}  {pieces[0]}", *(f"{'':13}{piece}" for piece in pieces[1:])]


def _pointed(place: Place, line: str) -> list[str]:
    """The line of the file, cut around the place when it is long, with carets below the place."""
    start = min(place.column - 1, len(line))
    end = min(max(start + place.end - place.start, start + 1), max(len(line), start + 1))
    left = 0
    if len(line) > _WIDEST:
        left = max(0, min(start - _WIDEST // 2, len(line) - _WIDEST))
        line, start, end = line[left : left + _WIDEST], start - left, min(end - left, _WIDEST)
    head = f"{place.line:>5} | " + ("…" if left else "")
    blank = " " * len(head) + "".join("\t" if c == "\t" else " " * _width(c) for c in line[:start])
    carets = "^" * max(sum(_width(c) for c in line[start:end]), 1)
    return [(head + _clean(line)).rstrip(), blank + carets]


def _clean(text: str) -> str:
    """The text without characters that would steer a terminal."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(c if c.isprintable() or c == "\t" else "·" for c in text)


def _width(character: str) -> int:
    """Columns that a character takes on the screen."""
    if character.isascii():
        return 1
    from unicodedata import combining, east_asian_width

    if combining(character):
        return 0
    return 2 if east_asian_width(character) in "WF" else 1
