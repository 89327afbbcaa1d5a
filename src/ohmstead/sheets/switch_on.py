"""The switch-on plan to take to the bench: drawing with probe marks, steps with boxes, causes, signatures."""

from ..bench.marks import marks_of
from ..bench.plan import plan_of
from ..bench.step import Plan
from .asked import Asked
from .document import Block, Document, Heading, Picture, Table, Terms, Text
from .oneline.pages import draw_pages
from .oneline.svg import to_svg
from .render.frame import frame_of
from .switching import words
from .switching.probes import add_marks
from .switching.tables import causes, stage_blocks

TITLE = words.TITLE
PAPER = "sideways"
ORDER = 55
NAME = "switch-on"


def draw(asked: Asked, terms: Terms) -> Document:
    """The plan with bands for a battery nobody has measured yet."""
    return plan_sheet(asked, terms, plan_of(asked.operation))


def plan_sheet(asked: Asked, terms: Terms, plan: Plan) -> Document:
    """A plan on paper."""
    share = f"{100 * plan.confidence_fraction:g} %"
    blocks: list[Block] = [
        Text(words.LEAD.format(share=share, meter=plan.meter)),
        Text(words.BATTERY_LEAD),
        Heading(words.SIGNED),
        signatures(),
        Heading(words.DRAWING),
        Text(words.DRAWING_LEAD),
        *probe_pictures(asked, terms),
        *stage_blocks(plan),
        Heading(words.OUTSIDE),
        causes(plan),
    ]
    return Document(NAME, TITLE, tuple(blocks), PAPER)


def probe_pictures(asked: Asked, terms: Terms) -> tuple[Picture, ...]:
    """The one-line drawing with a mark wherever probes go."""
    pages = draw_pages(asked, terms)
    add_marks(pages, asked, terms.sharing, marks_of(asked.operation.circuit))
    site = frame_of(asked, terms).site
    return tuple(
        Picture(f"{NAME}-probes-{page.number}", to_svg(page, f"{words.DRAWING}: {site}"), size="page") for page in pages
    )


def signatures() -> Table:
    """Who measured, with what, when."""
    return Table(
        "switch-on-signed", words.SIGNED_HEAD, tuple((row, words.LINE) for row in words.SIGNED_ROWS), "ll",
        widths=(0.35, 0.65),
    )  # fmt: skip
