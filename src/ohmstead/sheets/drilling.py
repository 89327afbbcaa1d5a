"""The drilling template: the plate at true size, on as many sheets of paper as it takes."""

from .asked import Asked
from .document import Document, Picture, Terms, Text
from .oneline.svg import to_svg
from .plate_plan import applies as applies
from .plating import words

TITLE = words.DRILL_TITLE
PAPER = "upright"
ORDER = 34
NAME = "drilling"


def draw(asked: Asked, terms: Terms) -> Document:
    """One picture a sheet, each at true size. Raises SiteError when parts find no place."""
    if asked.site.plate is None:
        return Document(NAME, TITLE, (Text(words.NO_PLATE),), PAPER)
    from ..plan.plan import plan_of
    from .plating.template import draw_template

    pages = draw_template(plan_of(asked.site), asked, terms)
    pictures = tuple(
        Picture(f"{NAME}-{page.number}", to_svg(page, f"{TITLE} {page.number}"), size="page") for page in pages
    )
    return Document(NAME, TITLE, pictures, PAPER)
