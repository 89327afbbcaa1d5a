"""Ways along the plate against a general graph library, bends and clipping against a general geometry library."""

from itertools import pairwise
from random import Random

import networkx
import pytest
from shapely import LineString, Point, box

from ohmstead.plate.bend import corner_room_mm, exit_room_mm
from ohmstead.plate.box import Box
from ohmstead.plate.duct import Duct, ducts_of
from ohmstead.plate.route import BEND_MM, LOOSE_BEND_MM, OFF_DUCT, Grid
from ohmstead.plate.tiles import OVERLAP_MM, clipped, marks_of, tiles_of
from ohmstead.plate.turning import turned_size, turned_spot

PLATE = Box(0.0, 0.0, 500.0, 600.0)
LEVEL, UPRIGHT = (30.0, 300.0, 580.0), (20.0, 480.0)  # middle lines of its ducts


def some_plate(seed: int, with_ducts: str) -> tuple[list[Box], tuple[Duct, ...], list[tuple[float, float]]]:
    """Parts that do not overlap, ducts between them, and ends of wires on their upper and lower sides."""
    chance = Random(seed)
    ducts = ducts_of([10, 280, 560], [0, 460], (40, 60), PLATE) if with_ducts == "ducts" else ()
    parts: list[Box] = []
    while len(parts) < 7:
        x, y = chance.uniform(45, 380), chance.choice([60, 330]) + chance.uniform(0, 60)
        part = Box(x, y, x + chance.uniform(30, 80), y + chance.uniform(40, 130))
        if not any(part.grown(6, 6, 6, 6).overlaps(other) for other in parts):
            parts.append(part)
    ends = [(chance.uniform(part.left, part.right), chance.choice([part.top, part.bottom])) for part in parts]
    return parts, ducts, ends


def in_duct(spot: tuple[float, float], other: tuple[float, float], ducts: tuple[Duct, ...]) -> bool:
    """Does a stretch lie along the middle line of a duct, as the ducts of `some_plate` are laid?"""
    if not ducts:
        return False
    level = spot[1] == other[1] and spot[1] in LEVEL
    return level or (spot[0] == other[0] and spot[0] in UPRIGHT)


def cheapest(grid: Grid, parts: list[Box], ducts: tuple[Duct, ...], ends: tuple) -> float:
    """The cost of the cheapest way by Dijkstra's algorithm of another library; states are spots with a direction."""
    graph = networkx.DiGraph()
    walls = [box(*part.shrunk(1e-3)) for part in parts]
    spots = [(x, y) for x in grid.xs for y in grid.ys]

    def bend(spot: tuple[float, float]) -> float:
        if not ducts or spot[1] in LEVEL or spot[0] in UPRIGHT:
            return BEND_MM
        return LOOSE_BEND_MM

    for spot in spots:
        graph.add_edge((spot, "x"), (spot, "y"), weight=bend(spot))
        graph.add_edge((spot, "y"), (spot, "x"), weight=bend(spot))
    for along, lines, others in (("x", grid.ys, grid.xs), ("y", grid.xs, grid.ys)):
        for line in lines:
            for one, other in pairwise(others):
                a, b = ((one, line), (other, line)) if along == "x" else ((line, one), (line, other))
                if any(LineString([a, b]).intersects(wall) for wall in walls):
                    continue
                price = (other - one) * (1.0 if not ducts or in_duct(a, b, ducts) else OFF_DUCT)
                graph.add_edge((a, along), (b, along), weight=price)
                graph.add_edge((b, along), (a, along), weight=price)
    near = [min(spots, key=lambda spot, end=end: abs(spot[0] - end[0]) + abs(spot[1] - end[1])) for end in ends]
    graph.add_edges_from(
        [("start", (near[0], way)) for way in "xy"] + [((near[1], way), "end") for way in "xy"], weight=0.0
    )
    try:
        return float(networkx.dijkstra_path_length(graph, "start", "end"))
    except networkx.NetworkXNoPath:
        return float("inf")


@pytest.mark.parametrize("with_ducts", ["ducts", "free"])
def test_the_way_is_the_cheapest(with_ducts, outside):
    worst, count = 0.0, 0
    for seed in range(3):
        parts, ducts, ends = some_plate(seed, with_ducts)
        beside = ([x for part in parts for x in (part.left - 3, part.right + 3)],
                  [y for part in parts for y in (part.top - 3, part.bottom + 3)])  # fmt: skip
        grid = Grid(ends, ducts, beside)
        for one, other in pairwise(ends):
            way = grid.way(one, other, parts)
            theirs = cheapest(grid, parts, ducts, (one, other))
            ours = way.cost if way is not None else float("inf")
            count += 1
            worst = max(worst, 0.0 if ours == theirs else abs(ours - theirs) / theirs)
    outside(source="networkx", place="dijkstra_path_length", read="program",
            what=f"cheapest ways of wires on a plate, {with_ducts}", deviation=worst)  # fmt: skip
    assert count == 18
    assert worst < 1e-9


def test_a_way_keeps_clear_of_parts_and_leaves_straight(outside):
    parts, ducts, ends = some_plate(11, "ducts")
    grid = Grid(ends, ducts, ([], []))
    sides = ["top" if end[1] == part.top else "bottom" for part, end in zip(parts, ends, strict=True)]
    for (one, side), (other, far) in pairwise(zip(ends, sides, strict=True)):
        way = grid.way(one, other, parts, (side, far))
        assert way is not None
        line = LineString(way.spots)
        assert not any(line.crosses(box(*part.shrunk(0.01))) for part in parts)
        assert way.length == pytest.approx(line.length)
        assert way.spots[1][0] == pytest.approx(one[0], abs=1e-3)  # straight out of a top or bottom side
        assert (way.spots[1][1] < one[1]) == (side == "top")
    outside(source="shapely", place="LineString", read="program", what="ways cross no part", deviation=None)


def test_no_way_is_told():
    wall = Box(100, -10, 120, 700)
    assert Grid([(50, 50), (200, 50)], (), ([], [])).way((50, 50), (200, 50), [wall]) is None


def test_the_widest_bend_round_a_corner(outside):
    """A ring sector of the wire's width, its middle line touching both outer walls, must stay within the two ducts."""
    worst = 0.0
    for first, second, wire in ((38.0, 38.0, 8.0), (38.0, 28.0, 4.1), (20.0, 58.0, 10.2), (18.0, 18.0, 12.0)):
        inner = corner_room_mm(first, second, wire)
        fits, jams = (_stays(first, second, wire, inner * factor) for factor in (1 - 1e-3, 1 + 1e-3))
        assert fits and not jams
        worst = max(worst, 1e-3)
    outside(source="shapely", place="buffer, within", read="program", what="widest bend in a corner of two ducts",
            deviation=worst)  # fmt: skip


def _stays(first: float, second: float, wire: float, inner: float) -> bool:
    """Ducts: x from 0 to `first` upwards, y from 0 to `second` to the right; both outer walls on the axes."""
    outer = inner + wire
    far = 3 * outer + first + second
    corner = box(0, 0, first, far).union(box(0, 0, far, second))
    quadrant = box(0, 0, outer, outer)
    ring = (
        Point(outer, outer).buffer(outer, 512).difference(Point(outer, outer).buffer(inner, 512)).intersection(quadrant)
    )
    return bool(ring.difference(corner.buffer(1e-4)).area < 1e-6)


def test_room_where_a_wire_leaves():
    assert exit_room_mm(20, 38, 25, 4) == 29
    assert exit_room_mm(5, 0, 20, 4) < 0
    assert corner_room_mm(5, 38, 8) < 0


@pytest.mark.parametrize("turns", [0, 1, 2, 3])
def test_turning_keeps_spots_on_the_part(turns, outside):
    from shapely.affinity import rotate, translate

    part, spot = box(0, 0, 120, 80), Point(30, 20)
    turned = rotate(part, 90 * turns, origin=(0, 0))  # y grows downwards, so that this is clockwise to the eye
    left, top, right, bottom = turned.bounds
    theirs = translate(rotate(spot, 90 * turns, origin=(0, 0)), -left, -top)
    ours = turned_spot((30, 20), 120, 80, turns)
    outside(source="shapely", place="rotate", read="program", what="spots on a turned part", deviation=0.0)
    assert ours == pytest.approx((theirs.x, theirs.y), abs=1e-9)
    assert turned_size(120, 80, turns) == pytest.approx((right - left, bottom - top))


def test_tiles_cover_the_plate_and_share_their_marks():
    whole, sheet = Box(0, 0, 600, 800), (192.0, 259.0)
    tiles = tiles_of(whole, sheet)
    covered = box(*tiles[0].box)
    for tile in tiles:
        covered = covered.union(box(*tile.box))
        assert tile.box.width <= sheet[0] and tile.box.height <= sheet[1]
    assert covered.equals(box(*whole))
    for one, other in ((tiles[0], tiles[1]), (tiles[0], tiles[4])):
        shared = box(*one.box).intersection(box(*other.box))
        assert min(shared.bounds[2] - shared.bounds[0], shared.bounds[3] - shared.bounds[1]) == OVERLAP_MM
        inside = [mark for mark in marks_of(whole, sheet) if shared.buffer(1e-6).contains(Point(mark))]
        assert len(inside) >= 2


def test_clipping_is_that_of_a_geometry_library(outside):
    chance, frame = Random(5), Box(10, 20, 60, 90)
    worst = 0.0
    for _ in range(300):
        one, other = ((chance.uniform(0, 100), chance.uniform(0, 100)) for _ in range(2))
        theirs = LineString([one, other]).intersection(box(*frame))
        ours = clipped(one, other, frame)
        assert (ours is None) == theirs.is_empty
        if ours is not None:
            worst = max(worst, abs(LineString(ours).length - theirs.length))
    outside(
        source="shapely", place="intersection", read="program", what="lines cut at the edge of a sheet", deviation=worst
    )
    assert worst < 1e-9
