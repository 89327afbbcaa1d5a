"""Places: nothing overlaps, clearances are kept, small cases are the best there are, the same input gives the same."""

from dataclasses import replace
from itertools import combinations, product

import pytest
from shapely import box

from ohmstead.plan.aims import COPPER, HEAT_MM2_PER_W
from ohmstead.plan.body import Stand
from ohmstead.plan.collide import collisions
from ohmstead.plan.layout import Layout
from ohmstead.plan.place import NoPlace, place, stated
from ohmstead.plan.plan import plan_of
from ohmstead.plan.problem import Problem, band_of, problem_of
from ohmstead.plan.wires import lead
from ohmstead.site.pieces import Height
from ohmstead.site.problems import SiteError
from plan.plates import STATED, example, found, loose, placed, small


def check_clear(layout: Layout) -> float:
    """Asserts by a geometry library that nothing overlaps; returns the smallest spare room between two parts."""
    stands = layout.stands()
    plate, spare = box(*layout.problem.inner), float("inf")
    for stand in stands:
        assert box(*stand.box).within(plate.buffer(1e-6)), stand.name
        for duct in layout.ducts():
            assert box(*stand.box).intersection(box(*duct.box)).area < 1e-6, (stand.name, duct.name)
    for one, other in combinations(stands, 2):
        for first, second in ((one, other), (other, one)):
            wanted = box(*first.kept_free())
            assert wanted.intersection(box(*second.box)).area < 1e-6, (one.name, other.name)
        spare = min(spare, box(*one.box).distance(box(*other.box)))
    return spare


@pytest.mark.parametrize("name", STATED)
def test_examples_overlap_nowhere(name, outside):
    spare = check_clear(example(name).layout)
    outside(
        source="shapely", place="intersection", read="program", what=f"no overlap on the plate, {name}", deviation=None
    )
    assert spare >= 5.0 - 1e-9


def test_places_that_are_found_overlap_nowhere(outside):
    layout = placed()
    check_clear(layout)
    outside(
        source="shapely", place="intersection", read="program", what="no overlap among found places", deviation=None
    )
    assert 0 < layout.bound <= layout.cost
    assert layout.how == "near" and 0 < layout.gap_fraction < 1


def test_the_same_file_gives_the_same_places():
    one, other = placed(), place(loose(), steps=1)
    assert (one.corners, one.turns, one.across, one.cost) == (other.corners, other.turns, other.across, other.cost)


def own_cost(problem: Problem, layout: Layout) -> float:
    """The cost worked out from the wires as they are led, another path than the programme's."""
    wires = sum(max(1, round(COPPER * led.link.cord.weight)) * led.way_mm for led in lead(layout))
    heat = sum(
        round(COPPER * HEAT_MM2_PER_W * body.heat_w) * (layout.corners[name][1] - problem.inner.top)
        for name, body in problem.bodies.items()
    )
    return wires + heat


@pytest.mark.parametrize("rows", [2, 3])
def test_the_cost_is_that_of_the_wires_as_they_are_led(rows, outside):
    """The programme knows lengths by formula, the router finds them; with ducts both must agree to the rounding."""
    problem = problem_of(small("460 x 560 mm", f"ducts: 30 x 40 mm\n  rows: {rows}"))
    layout = place(problem)
    led = own_cost(problem, layout)
    deviation = abs(layout.cost / led - 1)
    outside(
        source="computed", place="sum over led wires", read="computed", what="cost of a placement", deviation=deviation
    )
    assert deviation < 0.01  # ends are rounded to whole millimetres in the programme


def every_layout(problem: Problem):
    """All placements on the grid in which nothing overlaps and all room is kept. No solver."""
    names, inner, grid = list(problem.bodies), problem.inner, problem.grid
    spots = {}
    for name, body in problem.bodies.items():
        stands = [
            Stand(body, (x, y), 0)
            for x in range(int(inner.left), int(inner.right), grid)
            for y in range(int(inner.top), int(inner.bottom), grid)
        ]
        spots[name] = [stand for stand in stands if inner.holds(stand.kept_free())]
    for chosen in product(*(spots[name] for name in names)):
        if not any(a.kept_free().overlaps(b.box) or b.kept_free().overlaps(a.box) for a, b in combinations(chosen, 2)):
            yield {stand.name: stand for stand in chosen}


def free_cost(problem: Problem, stands: dict[str, Stand]) -> float:
    """Copper by the shortest way along the edges of a grid, and heat by height."""
    total = 0.0
    for link in problem.links:
        ends = [
            stands[end.body].spot(end.terminal) if end.terminal else problem.entries[end.entries[0]]
            for end in link.ends
        ]
        way = abs(round(ends[0][0]) - round(ends[1][0])) + abs(round(ends[0][1]) - round(ends[1][1]))
        total += max(1, round(COPPER * link.cord.weight)) * way
    for name, body in problem.bodies.items():
        total += round(COPPER * HEAT_MM2_PER_W * body.heat_w) * (stands[name].corner[1] - problem.inner.top)
    return total


@pytest.mark.parametrize(
    ("size", "more"), [("260 x 220 mm", "edge: 0 mm"), ("200 x 320 mm", "edge: 0 mm\n  air stream: 0..60 mm")]
)
def test_small_plates_are_placed_best(size, more, outside):
    problem = replace(problem_of(small(size, more)), grid=20)
    if problem.plate.stream_mm:
        problem = replace(problem, plate=replace(problem.plate, stream_mm=None))
    layout = place(problem)
    least = min(free_cost(problem, stands) for stands in every_layout(problem))
    deviation = abs(layout.cost - least) / least
    outside(source="computed", place="every placement tried", read="computed", what=f"least cost on a plate of {size}",
            deviation=deviation)  # fmt: skip
    assert layout.how == "best"
    assert deviation < 1e-9


def test_small_plates_with_ducts_are_placed_best(outside):
    """Every place on the grid between stated ducts is tried, each with its wires led."""
    more = "edge: 0 mm\n  ducts: 30 x 40 mm\n  across: [0 mm, 170 mm, 340 mm]\n  upright: [0 mm, 330 mm]"
    problem = replace(problem_of(small("360 x 370 mm", more, supply=", at: [40 mm, 60 mm]")), grid=40)
    layout = place(problem)
    best = float("inf")
    for x1, y1, x2, y2 in product(range(0, 360, 40), range(0, 370, 40), range(0, 360, 40), range(0, 370, 40)):
        corners = {"block": (x1, y1), "supply": (40.0, 60.0), "radio": (x2, y2)}
        tried = Layout(problem, corners, dict.fromkeys(corners, 0), layout.across, layout.upright)
        stands = tried.stands()
        clear = not any(
            a.kept_free().overlaps(b.box) or b.kept_free().overlaps(a.box) for a, b in combinations(stands, 2)
        )
        ducts = [duct.box for duct in tried.ducts()]
        free = [stand for stand in stands if stand.name != "supply"]
        clear = clear and not any(stand.kept_free().overlaps(duct) for stand in free for duct in ducts)
        if clear and all(problem.inner.holds(stand.box) for stand in stands):
            best = min(best, own_cost(problem, tried) - _fixed_heat(problem))
    deviation = abs(layout.cost - best) / best
    outside(source="computed", place="every placement tried", read="computed", what="least cost between ducts",
            deviation=deviation)  # fmt: skip
    assert layout.how == "best"
    assert deviation < 0.01  # ends are rounded to whole millimetres in the programme


def _fixed_heat(problem: Problem) -> float:
    """Heat of parts that stay where they are is no part of the programme's cost."""
    return sum(
        round(COPPER * HEAT_MM2_PER_W * body.heat_w) * (body.fixed[1] - problem.inner.top)
        for body in problem.bodies.values() if body.fixed
    )  # fmt: skip


def test_stated_places_need_no_solver(monkeypatch):
    monkeypatch.setattr("ohmstead.plan.place._solve", None)
    plan = plan_of(small(block=", at: [10 mm, 30 mm]", supply=", at: [10 mm, 150 mm]", radio=", at: [200 mm, 40 mm]"))
    assert plan.layout.how == "stated"
    assert plan.stand("supply").corner == (10.0, 150.0)


def test_turned_parts_are_placed_turned():
    site = small("200 x 420 mm", block=", may turn: yes", supply=", turned: 180°")
    layout = place(problem_of(site))
    check_clear(layout)
    assert layout.turns["supply"] == 2
    assert layout.turns["block"] in (0, 1, 2, 3)
    supply = layout.stands()[1]
    assert supply.spot(supply.body.terminals[2, "end"])[1] == supply.box.bottom  # its upper side lies below


def test_mains_parts_stay_in_their_area():
    site = small(
        "420 x 400 mm",
        "mains at: [300 mm, 0 mm]\n  mains size: 120 x 400 mm\n  mains apart: 40 mm",
        supply=", mains: yes",
    )
    layout = place(problem_of(site))
    stands = {stand.name: stand.box for stand in layout.stands()}
    area = box(300, 0, 420, 400)
    assert box(*stands["supply"]).within(area)
    assert min(box(*stands[name]).distance(area) for name in ("block", "radio")) >= 40


def test_what_collides_is_named():
    problem = problem_of(small("140 x 150 mm"))
    with pytest.raises(NoPlace):
        place(problem)
    reasons, left = collisions(problem)
    assert reasons[0] == "outlines" and left
    reasons, left = collisions(problem_of(small("360 x 130 mm", "edge: 0 mm", radio=", air: 60 mm")))
    assert reasons == ("outlines", "air") and left == ("radio",)
    with pytest.raises(SiteError) as told:
        plan_of(small("140 x 150 mm"))
    assert "finds no place" in str(told.value) or "find no place" in str(told.value)


def test_the_layout_of_the_file_is_taken_as_it_stands():
    layout = stated(example("observatory").problem)
    assert layout.corners["recorder"] == (305.0, 385.0)
    assert layout.across[0] == 10.0


def test_a_plan_with_found_ducts():
    plan = found()
    check_clear(plan.layout)
    assert len(plan.ducts) == len(plan.layout.across) + 2


def test_parts_that_sit_high_or_low_do():
    """The observatory's file says that the recorder sits low and the net supply high."""
    layout = placed()
    middles = {stand.name: stand.box.middle[1] for stand in layout.stands()}
    assert middles["recorder"] >= 385 >= middles["net supply"]
    site = small()
    part = replace(site.parts["radio"], at=Height(height_m=0.1))
    assert site.plate is not None
    assert band_of(part, site.plate) == (200.0, 400.0)  # the plate is 400 mm high
    assert band_of(site.parts["radio"], site.plate) is None
