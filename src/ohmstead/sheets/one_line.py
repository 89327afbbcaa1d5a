"""The one-line drawing: the whole supply on as few sheets as stay readable."""

from .asked import Asked
from .document import Block, Document, Picture, Terms
from .oneline import words
from .oneline.dxf import to_dxf
from .oneline.pages import draw_pages
from .oneline.svg import to_svg
from .render.frame import frame_of

TITLE = words.TITLE
PAPER = "sideways"
ORDER = 10
NAME = "one-line"


def draw(asked: Asked, terms: Terms) -> Document:
    """The drawing as one picture a page, border and title block included."""
    pages = draw_pages(asked, terms)
    site = frame_of(asked, terms).site
    blocks: list[Block] = []
    for page in pages:
        name = NAME if len(pages) == 1 else f"{NAME}-{page.number}"
        title = f"{TITLE}: {site}, {words.SHEET.format(number=page.number, count=len(pages))}"
        blocks.append(Picture(name, to_svg(page, title), size="page"))
    return Document(NAME, TITLE, tuple(blocks), PAPER)


def dxf(asked: Asked, terms: Terms) -> str:
    """The same drawing for a CAD program. Raises ImportError when ezdxf is not installed (extra `sheets`)."""
    return to_dxf(draw_pages(asked, terms))
