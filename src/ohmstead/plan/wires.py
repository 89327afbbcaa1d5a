"""Leads every cord along the plate: its way, its length, the bends on it."""

from collections.abc import Iterable, Iterator, Sequence
from math import inf

from ..plate.bend import corner_room_mm, exit_room_mm
from ..plate.box import Box, Spot
from ..plate.duct import WALL_MM, Duct
from ..plate.route import Grid, Way
from ..site.record import record
from .body import Stand, Terminal
from .layout import Layout
from .problem import End, Link


class NoWay(Exception):
    """A cord finds no way; `link` is the one."""

    def __init__(self, link: Link) -> None:
        super().__init__(link)
        self.link = link


@record(frozen=True)
class Bend:
    """A place where a wire must bend: the inner radius there is room for, and the one it needs. [mm]"""

    where: str  # "start", "end" or "corner"
    spot: Spot
    room: float
    needed: float


@record(frozen=True)
class Led:
    """A cord as it is led. `entries` name where it leaves the plate, empty for an end at a part.

    way_mm is what lies along the plate, rise_mm what it takes at both ends to come down to the ducts, length_m
    both with the slack of the plate.
    """

    link: Link
    spots: tuple[Spot, ...]
    entries: tuple[str, str]
    way_mm: float
    rise_mm: float
    length_m: float
    bends: tuple[Bend, ...]
    cost: float

    @property
    def name(self) -> str:
        """The run's name."""
        return self.link.cord.name


def lead(layout: Layout) -> tuple[Led, ...]:
    """Every cord of a layout. Raises NoWay."""
    stands = {stand.name: stand for stand in layout.stands()}
    ducts = layout.ducts()
    problem = layout.problem
    ends = [end for link in problem.links for end in link.ends]
    spots = [spot for end in ends for _, spot in _spots(end, stands, layout)]
    grid = Grid(spots, ducts, _lines(layout, tuple(stands.values())))
    return tuple(_led(link, grid, stands, layout) for link in problem.links)


def _spots(end: End, stands: dict[str, Stand], layout: Layout) -> list[tuple[str, Spot]]:
    """Where an end can be: (name of the entry or "", spot)."""
    if end.terminal is not None:
        return [("", stands[end.body].spot(end.terminal))]
    return [(entry, layout.problem.entries[entry]) for entry in end.entries]


def _lines(layout: Layout, stands: Sequence[Stand]) -> tuple[list[float], list[float]]:
    """Further lines beside parts: beside all without ducts, else beside those with ends on other sides."""
    xs: list[float] = []
    ys: list[float] = []
    for stand in stands:
        sides = {stand.side(terminal) for terminal in stand.body.terminals.values()}
        box = stand.box
        if not layout.ducts() or sides - {"top", "bottom"}:
            half = {side: free / 2 for side, free in stand.body.room(stand.turns).items()}
            xs += [box.left - half["left"], box.right + half["right"]]
            ys += [box.top - half["top"], box.bottom + half["bottom"]]
    wide, high = layout.problem.plate.size_mm
    return [x for x in xs if 0 <= x <= wide], [y for y in ys if 0 <= y <= high]


def _led(link: Link, grid: Grid, stands: dict[str, Stand], layout: Layout) -> Led:
    walls = _walls(link, stands, layout)
    sides = _side(link.ends[0], stands), _side(link.ends[1], stands)
    best: tuple[Way, tuple[str, str]] | None = None
    for entry1, spot1 in _spots(link.ends[0], stands, layout):
        for entry2, spot2 in _spots(link.ends[1], stands, layout):
            way = grid.way(spot1, spot2, walls, sides)
            if way is not None and (best is None or way.cost < best[0].cost):
                best = way, (entry1, entry2)
    if best is None:
        raise NoWay(link)
    way, entries = best
    duct = layout.problem.plate.ducts_mm
    floor = duct[1] / 2 if duct else 0.0
    rise = sum(_rise(end, stands, floor) for end in link.ends)
    length_m = (way.length + rise) * (1 + layout.problem.plate.slack_fraction) / 1000
    bends = tuple(_bends(link, way, stands, layout))
    return Led(link, way.spots, entries, way.length, rise, length_m, bends, way.cost)


def _side(end: End, stands: dict[str, Stand]) -> str:
    return stands[end.body].side(end.terminal) if end.terminal is not None else ""


def _walls(link: Link, stands: dict[str, Stand], layout: Layout) -> list[Box]:
    """What a cord cannot cross: parts, and the mains side unless one of its ends is there."""
    own = {end.body for end in link.ends if end.terminal is not None and end.terminal.side == "front"}
    walls = [stand.box for name, stand in stands.items() if name not in own]
    mains = layout.problem.mains
    if mains is not None:
        ends = [spot for end in link.ends for _, spot in _spots(end, stands, layout)]
        if not any(mains.left <= x <= mains.right and mains.top <= y <= mains.bottom for x, y in ends):
            walls.append(mains)
    return walls


def _rise(end: End, stands: dict[str, Stand], floor: float) -> float:
    """From a terminal down to the middle of the ducts, or to the plate. [mm]"""
    if end.terminal is None:
        return floor
    depth = stands[end.body].body.depth
    return abs((depth if end.terminal.side == "front" else depth / 2) - floor)


def _bends(link: Link, way: Way, stands: dict[str, Stand], layout: Layout) -> Iterator[Bend]:
    diameter, ducts = link.cord.diameter_mm, layout.ducts()
    spots = way.spots
    for which, end, path in (("start", link.ends[0], spots), ("end", link.ends[1], spots[::-1])):
        if end.terminal is None or len(path) < 3:
            continue
        stand = stands[end.body]
        gap, inner = _before(path, ducts) or (ahead(stand, end.terminal, stands.values(), layout), 0.0)
        room = exit_room_mm(gap, inner, stand.body.plug, diameter)
        times = stand.body.bend or link.cord.bend_times
        yield Bend(which, path[0], room, times * diameter)
    for number, spot in enumerate(spots[1:-1], 1):
        meeting = [duct for duct in ducts if _inside(spot, duct)]
        before, after = spots[number - 1], spots[number + 1]
        if len(meeting) == 2 and all(_along(pair, meeting) for pair in ((before, spot), (spot, after))):
            widths = [duct.width - 2 * WALL_MM for duct in meeting]
            room = corner_room_mm(widths[0], widths[1], diameter)
            yield Bend("corner", spot, room, link.cord.bend_times * diameter)


def ahead(stand: Stand, terminal: Terminal, others: Iterable[Stand], layout: Layout) -> float:
    """Free way straight out of a terminal, to the next part or the edge of the plate. [mm]"""
    x, y = stand.spot(terminal)
    wide, high = layout.problem.plate.size_mm
    free = {"top": y, "bottom": high - y, "left": x, "right": wide - x}.get(stand.side(terminal), inf)
    for other in others:
        box = other.box
        if other.name == stand.name:
            continue
        level, upright = box.top < y < box.bottom, box.left < x < box.right
        gaps = {
            "top": y - box.bottom if upright else -1.0,
            "bottom": box.top - y if upright else -1.0,
            "left": x - box.right if level else -1.0,
            "right": box.left - x if level else -1.0,
        }
        gap = gaps.get(stand.side(terminal), -1.0)
        free = min(free, gap) if gap >= 0 else free
    return free


def _before(path: Sequence[Spot], ducts: Sequence[Duct]) -> tuple[float, float] | None:
    """From a terminal to the duct in which its wire turns, and that duct's inner width; None when it is in none."""
    start, corner = path[0], path[1]
    straight = abs(start[0] - corner[0]) + abs(start[1] - corner[1])
    for duct in ducts:
        if _inside(corner, duct) and _along((corner, path[2]), [duct]):
            return straight - duct.width / 2 + WALL_MM, duct.width - 2 * WALL_MM
    return None


def _inside(spot: Spot, duct: Duct) -> bool:
    box = duct.box
    return box.left <= spot[0] <= box.right and box.top <= spot[1] <= box.bottom


def _along(pair: tuple[Spot, Spot], ducts: Sequence[Duct]) -> bool:
    """Does a stretch run along the middle line of one of these ducts?"""
    (x1, y1), (x2, y2) = pair
    for duct in ducts:
        if duct.way == "level" and abs(y1 - duct.line) < 1e-3 and abs(y2 - duct.line) < 1e-3:
            return True
        if duct.way == "upright" and abs(x1 - duct.line) < 1e-3 and abs(x2 - duct.line) < 1e-3:
            return True
    return False
