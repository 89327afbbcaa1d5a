"""The scaled plan of the plate as one drawing sheet."""

from collections.abc import Iterable

from ...plan.body import Stand
from ...plan.plan import Plan
from ...plate.box import Box as Area
from ...plate.box import Spot
from ...plate.duct import Duct
from ...plate.turning import turned_side
from ..asked import Asked
from ..cutting.pieces import tag_of
from ..document import Terms
from ..oneline.border import draw_border, draw_title, drawing_area
from ..oneline.names import Names
from ..oneline.scene import Area as Shape
from ..oneline.scene import Disc, Group, Line, Page
from ..oneline.text import BODY, LINE, SMALL, broken, text_width
from ..render.frame import frame_of
from ..render.style import page_mm
from . import words
from .lanes import lanes
from .marks import DASH, DOTS, FINE, PLAIN, THICK, THIN, across, dashed, down, said, zero

SCALES = (1.0, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.5, 10.0, 15.0, 20.0)
AROUND = (13.0, 13.0, 14.0, 12.0)  # paper for dimensions: left, top, right, bottom
NOTES_HIGH = 27.0
WEIGHTS = ((0.0, 0.2), (1.0, 0.3), (2.0, 0.42), (4.0, 0.6), (10.0, 0.95))
"""Line weight from so much copper on. [mm², mm]"""
TAG = 1.5


class Sheet:
    """One plan on one sheet: turns millimetres of the plate into those of the paper."""

    def __init__(self, plan: Plan, asked: Asked, terms: Terms) -> None:
        self.plan, self.asked = plan, asked
        self.names = Names(asked.site, terms.sharing)
        wide, high = plan.problem.plate.size_mm
        best: tuple[float, str, Page] | None = None
        for turned in ("upright", "sideways"):
            page = Page(1, *page_mm(terms.paper, turned), 1.0)
            left, top, right, bottom = drawing_area(page.width, page.height)
            room = right - left - AROUND[0] - AROUND[2], bottom - top - AROUND[1] - AROUND[3] - NOTES_HIGH
            scale = next((s for s in SCALES if wide / s <= room[0] and high / s <= room[1]), SCALES[-1])
            if best is None or scale < best[0]:
                best = scale, turned, page
        assert best is not None
        self.scale, self.turned, self.page = best
        left, top, right, _ = drawing_area(self.page.width, self.page.height)
        free = right - left - AROUND[0] - AROUND[2] - wide / self.scale
        self.left, self.top = left + AROUND[0] + free / 2, top + AROUND[1]

    def at(self, spot: Spot) -> Spot:
        """Where a spot of the plate lies on the paper."""
        return self.left + spot[0] / self.scale, self.top + spot[1] / self.scale

    def box(self, area: Area) -> tuple[float, float, float, float]:
        """Where an area of the plate lies on the paper."""
        return (*self.at((area.left, area.top)), *self.at((area.right, area.bottom)))


def draw_plan(plan: Plan, asked: Asked, terms: Terms) -> tuple[Page, str]:
    """The drawing sheet, border and title block included, and how it is turned."""
    sheet = Sheet(plan, asked, terms)
    page = sheet.page
    block = frame_of(asked, terms)
    title = draw_title(page, block, asked, 1, words.PLAN_TITLE, words.SCALE.format(scale=sheet.scale))
    page.groups = [
        draw_border(page),
        title,
        _plate(sheet),
        *(_duct(sheet, duct) for duct in plan.ducts),
        _wires(sheet),
        *(_part(sheet, stand) for stand in plan.stands),
        _terminals(sheet),
        _entries(sheet),
        _dimensions(sheet),
        _notes(sheet),
    ]
    return page, sheet.turned


def draw_bare(plan: Plan, asked: Asked, terms: Terms) -> Sheet:
    """The plate alone, without border, notes and title block, for the page; its groups are those of the sheet."""
    sheet = Sheet(plan, asked, terms)
    wide, high = plan.problem.plate.size_mm
    left, top, right, bottom = AROUND
    sheet.left, sheet.top = left, top
    sheet.page.width, sheet.page.height = left + wide / sheet.scale + right, top + high / sheet.scale + bottom
    sheet.page.groups = [
        _plate(sheet),
        *(_duct(sheet, duct) for duct in plan.ducts),
        _wires(sheet),
        *(_part(sheet, stand) for stand in plan.stands),
        _terminals(sheet),
        _entries(sheet),
        _dimensions(sheet),
    ]
    return sheet


def _plate(sheet: Sheet) -> Group:
    group = Group("plate", "frame", words.PLAN_TITLE)
    problem = sheet.plan.problem
    wide, high = problem.plate.size_mm
    group.box(sheet.box(Area(0, 0, wide, high)), "paper", THICK)
    if problem.plate.edge_mm:
        dashed(group, sheet.box(problem.inner), FINE, DOTS)
    if problem.mains is not None:
        box = sheet.box(problem.mains)
        dashed(group, box, THICK)
        said(group, box[0] + 1.2, box[3] - 1.2, words.MAINS_LINE, BODY, "start", "bold")
    if problem.plate.stream_mm is not None:
        low, right = problem.plate.stream_mm
        for x in (low, right):
            (x1, y1), (_, y2) = sheet.at((x, 0)), sheet.at((x, high))
            group.line((x1, y1), (x1, y2), width=THIN, dash="4 1.2")
        x, y = sheet.at(((low + right) / 2, high))
        group.marks.append(Shape(((x, y - 7), (x + 1.3, y - 3.6), (x - 1.3, y - 3.6)), "", PLAIN))
        group.line((x, y - 3.6), (x, y - 1), width=PLAIN)
    return group


def _duct(sheet: Sheet, duct: Duct) -> Group:
    """Two walls with their slots, open where another duct meets it."""
    group = Group(f"duct-{duct.name.replace(' ', '-')}", "note", duct.name)
    left, top, right, bottom = sheet.box(duct.box)
    group.box((left, top, right, bottom), "paper", 0)
    slot, pitch = 0.9, 2.0
    ends = (left, right) if duct.way == "level" else (top, bottom)
    for wall, inwards in ((top, 1), (bottom, -1)) if duct.way == "level" else ((left, 1), (right, -1)):
        pieces = _open(sheet, duct, wall, ends)
        for low, high in pieces:
            points = ((low, wall), (high, wall)) if duct.way == "level" else ((wall, low), (wall, high))
            group.line(*points, width=PLAIN)
            count = int((high - low) / pitch)
            for number in range(count + 1):
                along = low + (high - low - count * pitch) / 2 + number * pitch
                near, far = wall, wall + inwards * slot
                tick = ((along, near), (along, far)) if duct.way == "level" else ((near, along), (far, along))
                group.line(*tick, width=FINE)
    for end in ends:
        cap = ((end, top), (end, bottom)) if duct.way == "level" else ((left, end), (right, end))
        group.line(*cap, width=PLAIN)
    return group


def _open(sheet: Sheet, duct: Duct, wall: float, ends: Spot) -> list[Spot]:
    """A wall without the stretches where ducts that cross it lie."""
    pieces = [ends]
    for other in sheet.plan.ducts:
        if other.way == duct.way:
            continue
        left, top, right, bottom = sheet.box(other.box)
        across_wall = (top, bottom) if duct.way == "level" else (left, right)
        if not across_wall[0] - 1e-6 <= wall <= across_wall[1] + 1e-6:
            continue
        gap = (left, right) if duct.way == "level" else (top, bottom)
        kept = []
        for low, high in pieces:
            kept += [(a, b) for a, b in ((low, min(high, gap[0])), (max(low, gap[1]), high)) if b - a > 1e-6]
        pieces = kept
    return pieces


def weight(area_mm2: float) -> float:
    """Line weight of a wire by the copper of one of its conductors. [mm]"""
    return next(width for least, width in reversed(WEIGHTS) if area_mm2 >= least)


def _wires(sheet: Sheet) -> Group:
    group = Group("wires", "wire")
    for name, spots in lanes(sheet.plan).items():
        led = next(led for led in sheet.plan.wires if led.name == name)
        cord = led.link.cord
        inner = Group(sheet.names.run_id(cord.run), "wire", sheet.names.run(cord.run))
        inner.line(*(sheet.at(spot) for spot in spots), width=weight(cord.weight / cord.count))
        group.groups.append(inner)
    return group


def _part(sheet: Sheet, stand: Stand) -> Group:
    body = stand.body
    group = Group(sheet.names.part_id(stand.name), "symbol", sheet.names.part(stand.name))
    left, top, right, bottom = sheet.box(stand.box)
    dashed(group, sheet.box(stand.kept_free(("hands", "bends", "lights"))), FINE, DOTS)
    group.box((left, top, right, bottom), "paper", THICK)
    for hole in stand.holes():
        x, y = sheet.at(hole)
        group.marks.append(Disc(x, y, max(0.5, body.hole / 2 / sheet.scale), "", THIN))
        group.line((x - 1.1, y), (x + 1.1, y), width=FINE)
        group.line((x, y - 1.1), (x, y + 1.1), width=FINE)
    if body.lights not in ("", "none"):
        _light(group, sheet, stand)
    _lettering(group, sheet, stand, (left, top, right, bottom))
    return group


def _light(group: Group, sheet: Sheet, stand: Stand) -> None:
    """A small lamp where the lights are."""
    left, top, right, bottom = sheet.box(stand.box)
    side = turned_side(stand.body.lights, stand.turns)
    across_middle, down_middle = (left + right) / 2, (top + bottom) / 2
    x, y = {
        "front": (right - 1.8, down_middle),
        "top": (across_middle, top),
        "bottom": (across_middle, bottom),
        "left": (left, down_middle),
        "right": (right, down_middle),
    }[side]
    group.marks.append(Disc(x, y, 0.75, "paper", THIN))
    reach = 0.53
    group.line((x - reach, y - reach), (x + reach, y + reach), width=FINE)
    group.line((x - reach, y + reach), (x + reach, y - reach), width=FINE)


def _lettering(group: Group, sheet: Sheet, stand: Stand, box: tuple[float, float, float, float]) -> None:
    """Name, size and the place of the corner, as large as the outline allows."""
    left, top, right, bottom = box
    body = stand.body
    wide, high = body.size(stand.turns)
    mark = words.ASSUMED_MARK if "size" in body.assumed else ""
    size = f"{wide:g} x {high:g} x {body.depth:g}{mark}"
    corner = f"{stand.corner[0]:g} , {stand.corner[1]:g}"
    for scale in (1.15, 1.0, 0.88, 0.76):
        most = max(3, int((right - left - 2.4) / text_width("0", BODY * scale)))
        lines = broken(sheet.names.part(stand.name), most, 3)
        rows = [(line, BODY * scale, "bold") for line in lines]
        rows += [(size, SMALL * scale, ""), (corner, SMALL * scale, "")]
        need = sum(height * LINE / BODY for _, height, _ in rows)
        widest = max(text_width(text, height) for text, height, _ in rows)
        if need <= bottom - top - 5.2 and widest <= right - left - (6.4 if body.lights == "front" else 1.6):
            break
    y = (top + bottom - need) / 2
    for text, height, bold in rows:
        y += height * LINE / BODY
        said(group, (left + right) / 2, y - 0.45, text, height, "middle", bold)
    group.line((left, top + 2.2), (left, top), (left + 2.2, top), width=1.1)


def _terminals(sheet: Sheet) -> Group:
    """A dot where each wire meets a part, and its tag where there is room."""
    group = Group("tags", "note")
    steps = {"top": (0, 1), "bottom": (0, -1), "left": (1, 0), "right": (-1, 0), "front": (0, 1)}
    taken: list[tuple[float, float, float, float]] = []
    for led in sheet.plan.wires:
        tag = tag_of(sheet.asked.site, led.link.cord.run)
        for end in led.link.ends:
            if end.terminal is None:
                continue
            stand = sheet.plan.stand(end.body)
            x, y = sheet.at(stand.spot(end.terminal))
            group.marks.append(Disc(x, y, 0.45, "ink", 0))
            right, downwards = steps[stand.side(end.terminal)]
            wide = text_width(tag, TAG)
            tx = x + right * 0.9 if right else x
            ty = y + downwards * 1.0 + (TAG * 0.78 if downwards > 0 else 0 if downwards < 0 else TAG * 0.36)
            anchor = "start" if right > 0 else "end" if right < 0 else "middle"
            begin = tx - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
            box = (begin - 0.2, ty - TAG, begin + wide + 0.2, ty + 0.3)
            if not any(box[0] < b[2] and b[0] < box[2] and box[1] < b[3] and b[1] < box[3] for b in taken):
                taken.append(box)
                said(group, tx, ty, tag, TAG, anchor)
    return group


def _entries(sheet: Sheet) -> Group:
    """A cable gland at every entry, with what lies beyond."""
    group = Group("entries", "note")
    wide, high = sheet.plan.problem.plate.size_mm
    for name, spot in sheet.plan.problem.entries.items():
        x, y = sheet.at(spot)
        group.marks.append(Disc(x, y, 1.7, "paper", PLAIN))
        group.marks.append(Disc(x, y, 0.9, "", PLAIN))
        beyond = dict.fromkeys(
            sheet.names.part(end.part)
            for led in sheet.plan.wires
            for entry, end in zip(led.entries, (led.link.cord.run.start, led.link.cord.run.end), strict=True)
            if entry == name
        )
        if spot[1] >= high:
            said(group, x, y + 4.4, name, SMALL, "middle", "bold")
            _beyond(group, x, y + 6.8, list(beyond))
        elif spot[1] <= 0:
            told = f"{name}: {', '.join(beyond)}" if beyond else name
            anchor, step = ("start", 2.6) if spot[0] < wide / 2 else ("end", -2.6)
            said(group, x + step, y - 1.6, told, SMALL, anchor)
        else:
            anchor, step = ("end", -2.6) if spot[0] < wide / 2 else ("start", 2.6)
            said(group, x + step, y + 2.4, name, SMALL, anchor)
    return group


def _beyond(group: Group, x: float, y: float, names: list[str]) -> None:
    rows: list[str] = []
    for name in names:
        if rows and len(rows[-1]) + len(name) < 26:
            rows[-1] += f", {name}"
        else:
            rows.append(name)
    for number, row in enumerate(rows[:3]):
        said(group, x, y + 2.1 * number, row, SMALL, "middle")


def _dimensions(sheet: Sheet) -> Group:
    """Width and height of the plate, and the edges of its ducts, from the zero corner."""
    group = Group("dimensions", "note")
    wide, high = sheet.plan.problem.plate.size_mm
    x1, y1 = sheet.at((0, 0))
    x2, y2 = sheet.at((wide, high))
    across(group, x1, x2, y1 - 7.5, f"{wide:g}")
    down(group, y1, y2, x1 - 6.5, f"{high:g}")
    for x in (x1, x2):
        group.line((x, y1 - 0.8), (x, y1 - 9.0), width=FINE)
    for y in (y1, y2):
        group.line((x1 - 0.8, y), (x1 - 8.0, y), width=FINE)
    zero(group, x1, y1)
    for duct in sheet.plan.ducts:
        edge = duct.box.top if duct.way == "level" else duct.box.left
        if duct.way == "level":
            _, y = sheet.at((0, edge))
            group.line((x2 + 0.8, y), (x2 + 5.0, y), width=FINE)
            said(group, x2 + 5.6, y + 0.7, f"{edge:g}", BODY)
            said(group, x2 + 2.2, y + 3.4, duct.name, SMALL)
        else:
            x, _ = sheet.at((edge, 0))
            group.line((x, y1 - 0.8), (x, y1 - 3.2), width=FINE)
            said(group, x + 0.6, y1 - 2.0, f"{edge:g}", BODY)
    return group


def _notes(sheet: Sheet) -> Group:
    """Below the plate: a scale bar, line weights, and what signs mean."""
    group = Group("notes", "note")
    left, _, right, bottom = drawing_area(sheet.page.width, sheet.page.height)
    y = bottom - NOTES_HIGH + 8.0
    said(group, left + 2, y, words.NOTES, BODY, "start", "bold")
    for number, line in enumerate(words.NOTE_LINES):
        said(group, left + 2, y + LINE * (number + 1), line, SMALL)
    _bar(group, left + 2, y + LINE * 4 + 1.6, sheet.scale)
    x = left + 2 + max(text_width(line, SMALL) for line in words.NOTE_LINES) + 7
    said(group, x, y, words.WEIGHTS, BODY, "start", "bold")
    for number, (least, width) in enumerate(WEIGHTS):
        row = y + LINE * (number + 1) - 0.7
        group.line((x, row), (x + 9, row), width=width)
        said(group, x + 10.5, row + 0.6, f"≥ {least:g}" if least else f"< {WEIGHTS[1][0]:g}", SMALL)
    x += 40 if right - x > 90 else 30
    _signs(group, sheet, x, y)
    return group


def _bar(group: Group, x: float, y: float, scale: float) -> None:
    """A bar of hundred millimetres of the plate, in five fields."""
    for number in range(5):
        begin = x + number * 20 / scale
        group.box((begin, y, begin + 20 / scale, y + 1.2), "ink" if number % 2 == 0 else "paper", THIN)
    said(group, x + 100 / scale + 1.5, y + 1.3, f"{words.BAR} {words.KEY}", SMALL)


def _signs(group: Group, sheet: Sheet, x: float, y: float) -> None:
    rows: Iterable[str] = (words.FREE, words.LIGHT_LINE)
    for number, text in enumerate(rows):
        row = y + LINE * number - 0.6
        if text == words.FREE:
            group.marks.append(Line(((x, row), (x + 7, row)), FINE, DOTS))
        else:
            group.marks.append(Disc(x + 3.5, row, 0.75, "paper", THIN))
            for step in (-0.53, 0.53):
                group.line((x + 3.5 - 0.53, row + step), (x + 3.5 + 0.53, row - step), width=FINE)
        said(group, x + 8.5, row + 0.6, text, SMALL)
    row = y + 2 * LINE
    if any("size" in stand.body.assumed for stand in sheet.plan.stands):
        for number, line in enumerate(broken(words.ASSUMED_LINE, 40, 2)):
            said(group, x, row + LINE * number, line, SMALL)
        row += 2 * LINE
    if sheet.plan.problem.plate.stream_mm is not None:
        group.marks.append(Line(((x, row - 0.6), (x + 7, row - 0.6)), THIN, "4 1.2"))
        said(group, x + 8.5, row, words.STREAM_LINE, SMALL)
        row += LINE
    if sheet.plan.problem.mains is not None:
        group.marks.append(Line(((x, row - 0.6), (x + 7, row - 0.6)), THICK, DASH))
        said(group, x + 8.5, row, words.MAINS_LINE, SMALL)
