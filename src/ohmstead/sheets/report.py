"""The report: all that an insurer, a helper or a licensed electrician needs to judge the supply."""

from collections.abc import Iterator

from . import catalogue
from .asked import Asked
from .document import Block, Caution, Document, Heading, Picture, Terms, Text
from .reporting.circuits import cases, circuits, faults, loads
from .reporting.findings import accepted, findings
from .reporting.grounds import assumed, made_from, sources
from .reporting.supply import job, supply
from .reporting.words import CAUTION_TITLE, CAUTIONS, DRAWN, INTRODUCTION, SECTIONS

TITLE = "Report"
PAPER = "sideways"
ORDER = 70
DRAWING = "one-line"


def draw(asked: Asked, terms: Terms) -> Document:
    """The report of a solved and judged site."""
    return Document("report", TITLE, tuple(_blocks(asked, terms)), PAPER)


def _blocks(asked: Asked, terms: Terms) -> Iterator[Block]:
    yield Text(INTRODUCTION)
    yield Caution(CAUTION_TITLE, CAUTIONS[:1])
    yield from job(asked, terms)
    yield from _drawing(asked, terms)
    yield from supply(asked)
    yield from loads(asked)
    yield from circuits(asked, terms)
    yield from faults(asked)
    yield from findings(asked)
    yield from accepted(asked)
    yield from cases(asked)
    yield from sources(asked)
    yield from assumed(asked)
    yield from made_from(asked, terms)
    yield Heading(SECTIONS["cautions"])
    yield Caution(CAUTION_TITLE, CAUTIONS)


def _drawing(asked: Asked, terms: Terms) -> Iterator[Block]:
    """The one-line drawing, when that sheet exists."""
    if DRAWING not in catalogue.sheet_names():
        return
    pictures = [b for b in catalogue.draw(DRAWING, asked, terms).blocks if isinstance(b, Picture)]
    if pictures:
        yield Heading(SECTIONS["drawing"])
        yield Text(DRAWN)
    yield from pictures
