"""Put frames on sheets, with the notes on paper that stays free; choose the lettering's scale."""

from collections.abc import Iterable
from functools import partial

from ...site.record import record
from ..asked import Asked
from ..document import Terms
from ..render.frame import frame_of
from ..render.style import page_mm
from .border import draw_border, draw_title, drawing_area
from .columns import spread
from .figures import Figures
from .frame import Frame, frames_of
from .free import Paper
from .legend import draw_legend, draw_list, legend_size, list_size
from .marks import Sign, signs_of
from .measure import flag_label, measure
from .names import Names
from .node import Node
from .route import Router
from .scene import Box, Group, Page
from .tree import trees_of

LARGER, PLAIN, SMALLER = (1.3, 1.15), 1.0, (0.93, 0.86)
"""Scales of the lettering: larger ones for a small supply, smaller ones where they bring it onto one sheet."""
APART = 6.0  # between frames
SPREAD = 45.0  # a frame alone on its sheet is drawn apart by so much at most


@record(frozen=True)
class Bed:
    """Sheets at one scale with the frames on them; `count` leaves out sheets that only notes need."""

    scale: float
    width: float
    height: float
    frames: tuple[Frame, ...]
    count: int

    @property
    def area(self) -> Box:
        """Where the drawing may stand."""
        return drawing_area(self.width, self.height)


def draw_pages(asked: Asked, terms: Terms) -> list[Page]:
    """All sheets of the drawing of one study."""
    names = Names(asked.site, terms.sharing)
    signs = signs_of(asked.findings, names)
    figures = Figures(asked, names, signs, terms.units)
    bed, drawn = _best(figures, terms.paper)
    block = frame_of(asked, terms)
    pages = []
    for number, groups in enumerate(drawn, 1):
        page = Page(number, bed.width, bed.height, bed.scale)
        page.groups = [draw_border(page), draw_title(page, block, asked, len(drawn)), *groups]
        pages.append(page)
    return pages


def _best(figures: Figures, paper: str) -> tuple[Bed, list[list[Group]]]:
    """The largest lettering that needs the fewest sheets, and what is drawn on each."""
    plain = _bed(figures, paper, PLAIN)
    drawn = _drawn(plain, figures)
    if len(drawn) > 2 or len(drawn) == 2 and _bed(figures, paper, SMALLER[-1]).count > 1:
        return plain, drawn  # even the smallest does not bring it onto one sheet
    for scale in LARGER if len(drawn) == 1 else SMALLER:
        other = _bed(figures, paper, scale)
        if len(drawn) == 1 and (other.count > 1 or len(other.frames) > len(plain.frames)):
            continue
        other_drawn = _drawn(other, figures)
        if len(other_drawn) < len(drawn) or len(other_drawn) == 1:
            return other, other_drawn
    return plain, drawn


def _bed(figures: Figures, paper: str, scale: float) -> Bed:
    """Everything laid out at one scale."""
    short, long = sorted(page_mm(paper, "sideways"))
    width, height = long / scale, short / scale
    left, top, right, bottom = drawing_area(width, height)
    roots = trees_of(figures.asked.site, figures.asked.operation.circuit.map)
    frames = frames_of(roots, partial(_measured, figures=figures), right - left, bottom - top)
    count = _pack(frames, (left, top, right, bottom))
    if len(frames) == 1:
        spread(frames[0].root, frames[0].columns, min(SPREAD, right - left - frames[0].width))
    _tell_sheets(frames, figures)
    return Bed(scale, width, height, tuple(frames), count)


def _drawn(bed: Bed, figures: Figures) -> list[list[Group]]:
    """What stands on each sheet, notes included."""
    router = Router(figures)
    drawn: list[list[Group]] = [[] for _ in range(bed.count)]
    for frame in bed.frames:
        drawn[frame.sheet] += router.draw(frame)
    _add_notes(drawn, bed, figures.signs.all)
    return drawn


def _measured(node: Node, most: float, figures: Figures) -> None:
    measure(node, figures, most)


def _pack(frames: Iterable[Frame], area: Box) -> int:
    """Shelves from the top of each sheet down, first fit in order; returns how many sheets there are."""
    left, top, right, bottom = area
    shelves: list[list[float]] = []  # sheet, top, height, next free x
    floor: list[float] = []  # lower end of the last shelf of each sheet
    for frame in frames:
        spot = None
        for shelf in shelves:
            last = shelf[1] + shelf[2] == floor[int(shelf[0])]
            high = bottom - shelf[1] if last else shelf[2]
            if shelf[3] + frame.width <= right + 1e-9 and frame.height <= high + 1e-9:
                spot = shelf
                break
        if spot is None:
            sheet = next((s for s, low in enumerate(floor) if low + APART + frame.height <= bottom), len(floor))
            if sheet == len(floor):
                floor.append(top - APART)
            spot = [sheet, floor[sheet] + APART, frame.height, left]
            shelves.append(spot)
        frame.sheet, frame.x, frame.y = int(spot[0]), spot[3], spot[1]
        spot[2], spot[3] = max(spot[2], frame.height), spot[3] + frame.width + 2 * APART
        floor[frame.sheet] = max(floor[frame.sheet], spot[1] + spot[2])
    return max(1, len(floor))


def _tell_sheets(frames: Iterable[Frame], figures: Figures) -> None:
    """Now that frames have a sheet, let the flags name it."""
    where = {id(node): frame.sheet + 1 for frame in frames for node in frame.root.every()}
    for frame in frames:
        for node in frame.root.every():
            if node.is_flag and node.leads_to is not None:
                node.head = flag_label(node, figures, where[id(node.leads_to)])


def _add_notes(drawn: list[list[Group]], bed: Bed, signs: tuple[Sign, ...]) -> None:
    """The legend and the list of findings on the first free paper, on a sheet of their own where there is none."""
    papers = []
    for groups in drawn:
        papers.append(Paper(bed.area))
        papers[-1].take_groups(groups)
    rest = signs
    while rest:
        fitting = _fitting(papers, rest)
        if fitting is None:
            papers.append(Paper(bed.area))
            drawn.append([])
            continue
        sheet, count, x, y = fitting
        note = draw_list(rest[:count], x, y)
        drawn[sheet].append(note)
        papers[sheet].take_groups([note])
        rest = rest[count:]
    for paper, groups in zip(papers, drawn, strict=True):
        spot = paper.place(legend_size()[0] + 2.0, legend_size()[1] + 2.0)
        if spot is not None:
            groups.append(draw_legend(spot[0] + 1.0, spot[1] + 1.0))
            return
    drawn.append([draw_legend(bed.area[0], bed.area[1])])


def _fitting(papers: list[Paper], signs: tuple[Sign, ...]) -> tuple[int, int, float, float] | None:
    """The sheet that takes all of a list, else the one that takes most of it. None when none takes a useful piece."""
    count = len(signs)
    least = min(count, 6)
    while count >= least:
        wide, high = list_size(signs[:count])
        for sheet, paper in enumerate(papers):
            spot = paper.place(wide + 2.0, high + 2.0)
            if spot is not None:
                return sheet, count, spot[0] + 1.0, spot[1] + 1.0
        count = count - 1 if count <= 12 else count * 4 // 5
    return None
