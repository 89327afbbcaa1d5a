"""The plate at true size on sheets of paper: punch through, drill. One millimetre here is one on paper."""

from ...plan.plan import Plan
from ...plate.box import Box as Area
from ...plate.box import Spot
from ...plate.duct import Duct
from ...plate.tiles import OVERLAP_MM, Tile, clipped, marks_of, tiles_of
from ..asked import Asked
from ..document import Terms
from ..oneline.names import Names
from ..oneline.scene import Disc, Group, Line, Page
from ..oneline.text import BODY, SMALL, text_width
from ..oneline.text import clipped as cut_text
from ..render.frame import Frame, frame_of
from ..render.style import page_mm
from . import words
from .marks import FINE, PLAIN, THICK, THIN, cross, said, zero

EDGE = 9.0  # what printers leave white
HEAD = 20.0  # for the bar, the key and what the sheet is called
REACH = 6.0  # of the lines through a hole
CUT = "5 1.2 0.6 1.2"
LETTER = 2.3
MARK = 5.0


def draw_template(plan: Plan, asked: Asked, terms: Terms) -> list[Page]:
    """Every sheet of the template."""
    wide, high = page_mm(terms.paper, "upright")
    sheet = wide - 2 * EDGE, high - 2 * EDGE - HEAD
    whole = Area(0.0, 0.0, *plan.problem.plate.size_mm)
    tiles = tiles_of(whole, sheet)
    marks = marks_of(whole, sheet)
    names = Names(asked.site, terms.sharing)
    block = frame_of(asked, terms)
    pages = []
    for number, tile in enumerate(tiles, 1):
        page = Page(number, wide, high, 1.0)
        on_sheet = _Tile(tile, (EDGE - tile.box.left, EDGE + HEAD - tile.box.top))
        page.groups = [
            _head(page, tile, tiles, block),
            _edges(on_sheet, whole, tiles),
            *(_part(on_sheet, plan, names, stand.name) for stand in plan.stands),
            *(_duct(on_sheet, duct) for duct in plan.ducts),
            _marks(on_sheet, marks),
        ]
        pages.append(page)
    return pages


class _Tile:
    """One sheet: what lies on it, and where it stands on the paper."""

    def __init__(self, tile: Tile, shift: Spot) -> None:
        self.tile, self.shift = tile, shift

    def at(self, spot: Spot) -> Spot:
        return spot[0] + self.shift[0], spot[1] + self.shift[1]

    def holds(self, spot: Spot) -> bool:
        box = self.tile.box
        return box.left <= spot[0] <= box.right and box.top <= spot[1] <= box.bottom

    def line(self, group: Group, one: Spot, other: Spot, width: float, dash: str = "") -> None:
        """As much of a line as lies on this sheet."""
        found = clipped(one, other, self.tile.box)
        if found is not None:
            group.marks.append(Line((self.at(found[0]), self.at(found[1])), width, dash))

    def box(self, group: Group, box: Area, width: float, dash: str = "") -> None:
        corners = ((box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom))
        for one, other in zip(corners, (*corners[1:], corners[0]), strict=True):
            self.line(group, one, other, width, dash)


def _head(page: Page, tile: Tile, tiles: tuple[Tile, ...], block: Frame) -> Group:
    """What the sheet is, how to print it, two bars to measure, and where it belongs."""
    group = Group("head", "frame")
    left, right = EDGE, page.width - EDGE
    mark = words.TILE.format(name=tile.name, number=page.number, count=len(tiles))
    said(group, left, EDGE + 3.2, f"{words.DRILL_TITLE} {words.TRUE}   {mark}", 3.0, "start", "bold")
    told = "  ".join(
        text for text in (block.site, f"{block.file} {block.mark}", block.revision, block.date) if text != "-"
    )
    room = int((right - left - 34) / text_width("0", SMALL))
    for number, text in enumerate((told, words.PRINT, words.STICK, words.PUNCH)):
        said(
            group, left, EDGE + 6.4 + 2.4 * number, cut_text(text, room), SMALL, "start", "bold" if number == 1 else ""
        )
    _key(group, right, tile, tiles)
    y = EDGE + HEAD - 2.6
    _bar(group, (left, y), (1, 0))
    _bar(group, (page.width - EDGE + 4.0, EDGE + HEAD + 6), (0, 1))
    if block.reasons:
        said(group, left + 108, y, block.why[:40], SMALL, "start", "bold")
    return group


def _bar(group: Group, start: Spot, way: Spot) -> None:
    """Hundred millimetres with a stroke every ten."""
    x, y = start
    group.line((x, y), (x + 100 * way[0], y + 100 * way[1]), width=PLAIN)
    for number in range(11):
        reach = 2.0 if number % 5 == 0 else 1.1
        a, b = x + 10 * number * way[0], y + 10 * number * way[1]
        group.line((a - reach * way[1], b - reach * way[0]), (a, b), width=THIN)
    place = (x + 101.5, y) if way[0] else (x + 1.0, y + 102.5)
    said(group, *place, words.BAR, SMALL, "start" if way[0] else "end", "bold")


def _key(group: Group, right: float, tile: Tile, tiles: tuple[Tile, ...]) -> None:
    """A small map of all sheets, this one black."""
    columns, rows = max(t.column for t in tiles) + 1, max(t.row for t in tiles) + 1
    wide, high = 5.0, min(5.5, 15.0 / rows)
    for other in tiles:
        x, y = right - (columns - other.column) * wide, EDGE + other.row * high
        group.box((x, y, x + wide, y + high), "ink" if other is tile else "paper", THIN)
        if other is not tile:
            said(group, x + wide / 2, y + high / 2 + 0.5, other.name, 1.5, "middle")


def _edges(sheet: _Tile, whole: Area, tiles: tuple[Tile, ...]) -> Group:
    """The edge of the plate, and where the paper is cut for the next sheet."""
    group = Group("edges", "frame")
    sheet.box(group, whole, THICK)
    box = sheet.tile.box
    if box.right < whole.right:
        sheet.line(group, (box.right - OVERLAP_MM / 2, box.top), (box.right - OVERLAP_MM / 2, box.bottom), FINE, CUT)
    if box.bottom < whole.bottom:
        sheet.line(group, (box.left, box.bottom - OVERLAP_MM / 2), (box.right, box.bottom - OVERLAP_MM / 2), FINE, CUT)
    if sheet.holds((whole.left, whole.top)):
        zero(group, *sheet.at((whole.left, whole.top)))
    return group


def _part(sheet: _Tile, plan: Plan, names: Names, name: str) -> Group:
    """Outline, name, and a cross at every hole with its diameter and its place."""
    stand = plan.stand(name)
    group = Group(names.part_id(name), "symbol", names.part(name))
    box = stand.box
    sheet.box(group, box, THIN)
    for spot in (
        box.middle,
        (box.left + box.width * 0.25, box.middle[1]),
        (box.left + box.width * 0.75, box.middle[1]),
    ):
        if sheet.holds((spot[0] - 8, spot[1])) and sheet.holds((spot[0] + 8, spot[1])):
            x, y = sheet.at(spot)
            mark = words.ASSUMED_MARK if "size" in stand.body.assumed or "holes" in stand.body.assumed else ""
            said(group, x, y, names.part(name) + mark, BODY, "middle", "bold")
            said(group, x, y + 2.6, f"{stand.corner[0]:g}, {stand.corner[1]:g}", SMALL, "middle")
            break
    for hole in stand.holes():
        if not sheet.holds(hole):
            continue
        x, y = sheet.at(hole)
        group.marks.append(Disc(x, y, stand.body.hole / 2, "", THIN))
        cross(group, x, y, REACH, FINE)
        group.marks.append(Disc(x, y, 0.25, "ink", 0))
        low = y + (5.2 if hole[1] < box.middle[1] else -4.4)
        anchor, step = ("start", 1.2) if hole[0] <= box.middle[0] else ("end", -1.2)
        said(group, x + step, low, words.HOLE.format(diameter=stand.body.hole), LETTER, anchor, "bold")
        said(group, x + step, low + 2.7, f"{hole[0]:g}, {hole[1]:g}", SMALL, anchor)
    return group


def _duct(sheet: _Tile, duct: Duct) -> Group:
    """Its outline, and its name on every sheet that has room for it."""
    group = Group(f"duct-{duct.name.replace(' ', '-')}", "note", duct.name)
    sheet.box(group, duct.box, FINE, "2 1")
    box, shown = duct.box, sheet.tile.box
    spot = (
        (max(box.left, shown.left) + 20, duct.line)
        if duct.way == "level"
        else (duct.line, max(box.top, shown.top) + 30)
    )
    if sheet.holds(spot) and box.left <= spot[0] <= box.right and box.top <= spot[1] <= box.bottom:
        x, y = sheet.at(spot)
        said(group, x, y + 0.8, words.DUCT.format(name=duct.name), LETTER, "middle")
    return group


def _marks(sheet: _Tile, marks: tuple[Spot, ...]) -> Group:
    """Crosses in circles, the same on both sheets that share them."""
    group = Group("registration", "mark")
    for spot in marks:
        if sheet.holds(spot):
            x, y = sheet.at(spot)
            group.marks.append(Disc(x, y, MARK / 2, "", THIN))
            cross(group, x, y, MARK, THIN)
    return group
