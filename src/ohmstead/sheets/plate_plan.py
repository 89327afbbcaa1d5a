"""The plan of the mounting plate to scale, with tables of parts, wires and ducts."""

from ..quantity.show import show
from .asked import Asked
from .document import Block, Document, Heading, Picture, Terms, Text
from .oneline.svg import to_svg
from .plating import words
from .plating.tables import duct_table, part_table, wire_table
from .render.frame import frame_of

TITLE = words.PLAN_TITLE
PAPER = "upright"
ORDER = 32
NAME = "plate-plan"


def applies(asked: Asked) -> str:
    """ "yes" for a site with a plate, else "no"."""
    return "yes" if asked.site.plate is not None else "no"


def draw(asked: Asked, terms: Terms) -> Document:
    """The drawing on its own sheet, then the tables. Raises SiteError when parts find no place."""
    if asked.site.plate is None:
        return Document(NAME, TITLE, (Text(words.NO_PLATE),), PAPER)
    from ..plan.plan import plan_of
    from .plating.drawn import draw_plan

    plan = plan_of(asked.site)
    page, turned = draw_plan(plan, asked, terms)
    picture = Picture(NAME, to_svg(page, f"{TITLE}: {frame_of(asked, terms).site}"), size="page")
    blocks: list[Block] = [picture, Heading(words.PARTS_TITLE)]
    gap = show(plan.layout.gap_fraction, "share", 2)
    blocks.append(Text(words.QUALITY[plan.layout.how].format(gap=gap)))
    generic = [stand.name for stand in plan.stands if "size" in stand.body.assumed]
    if generic:
        blocks.append(Text(words.GENERIC.format(names=", ".join(generic))))
    blocks += [part_table(plan), Heading(words.WIRES_TITLE)]
    blocks.append(Text(words.SLACK.format(slack=show(plan.problem.plate.slack_fraction, "share", 2))))
    blocks.append(wire_table(plan, asked, terms))
    if plan.ducts:
        blocks += [Heading(words.DUCTS_TITLE), duct_table(plan)]
    return Document(NAME, TITLE, tuple(blocks), turned)
