"""What rules are shown of a plate: every kind of clash, reach, mains and crowding, and only when it is there."""

from shapely import box

from ohmstead.evidence.plates import PlateView, plate_view
from ohmstead.plan.plan import plan_of
from plan.plates import STATED, example, small

PLACES = {"block": ", at: [10 mm, 40 mm]", "supply": ", at: [10 mm, 170 mm]", "radio": ", at: [200 mm, 50 mm]"}


def seen(size: str = "360 x 400 mm", more: str = "edge: 0 mm", **parts: str) -> PlateView:
    return plate_view(small(size, more, **(PLACES | parts)))


def test_a_good_plate_shows_nothing():
    view = seen()
    assert (view.clashes, view.reaches, view.mains, view.crowded, view.bends) == ((), (), (), (), ())
    assert view.complaint is None


def test_overlap_is_as_deep_as_a_geometry_library_finds(outside):
    view = seen(radio=", at: [90 mm, 60 mm]")
    (clash,) = view.clashes
    stands = {
        stand.name: stand.box
        for stand in plan_of(small(more="edge: 0 mm", **(PLACES | {"radio": ", at: [90 mm, 60 mm]"}))).stands
    }
    shared = box(*stands["block"]).intersection(box(*stands["radio"])).bounds
    depth = min(shared[2] - shared[0], shared[3] - shared[1])
    outside(source="shapely", place="intersection", read="program", what="by how much two parts overlap",
            deviation=abs(clash.by_mm / depth - 1))  # fmt: skip
    assert (clash.part, clash.what, clash.by_mm) == ("block", "radio", depth)


def test_edges_doors_and_ducts():
    assert [(c.part, c.what, c.by_mm) for c in seen("250 x 400 mm").clashes] == [("radio", "edge", 10.0)]
    deep = seen(radio=", at: [200 mm, 40 mm]", supply=", at: [10 mm, 170 mm]", more="edge: 0 mm")
    assert deep.clashes == ()
    ducts = "edge: 0 mm\n  ducts: 30 x 40 mm\n  across: [0 mm, 80 mm, 370 mm]\n  upright: [330 mm]"
    assert {(c.part, c.what) for c in seen(more=ducts).clashes} == {
        ("block", "duct level 2"),
        ("radio", "duct level 2"),
    }


def test_hands_and_air():
    view = seen(supply=", at: [10 mm, 104 mm]")
    assert {(r.part, r.side, r.free_mm, r.before) for r in view.reaches} == {
        ("block", "bottom", 4.0, "supply"),
        ("supply", "top", 4.0, "block"),
    }
    assert [(c.part, c.why, c.side, c.free_mm, c.wanted_mm) for c in view.crowded] == [
        ("block", "air", "bottom", 4.0, 5.0),
        ("supply", "air", "top", 4.0, 10.0),
    ]


def test_lights_behind_a_deeper_part():
    text = small().text
    from ohmstead.site.read import read_text

    lit = text.replace("radio: {size: 60 x 80 x 40 mm", "radio: {size: 60 x 80 x 20 mm, lights: left")
    for corner, hidden in (("[130 mm, 40 mm]", True), ("[145 mm, 40 mm]", False)):
        placed = lit.replace("hands: 10 mm}\n", f"hands: 10 mm, at: {corner}}}\n")
        placed = placed.replace("hands: 10 mm, air", "hands: 10 mm, at: [10 mm, 170 mm], air")
        placed = placed.replace("block: {size", "block: {at: [10 mm, 40 mm], size").replace(
            f"hands: 10 mm, at: {corner}}}\n    supply", "hands: 10 mm}\n    supply"
        )
        view = plate_view(read_text(placed, "lit.yaml"))
        lights = [one for one in view.crowded if one.why == "lights"]
        assert bool(lights) is hidden, corner  # 40 mm deep, seen from 10 mm: 30 mm are wanted


def test_mains():
    assert [(m.subject, m.other) for m in seen(supply=", at: [10 mm, 120 mm], mains: yes").mains] == [
        ("block", "supply")
    ]
    area = "edge: 0 mm\n  mains at: [190 mm, 0 mm]\n  mains size: 170 x 400 mm"
    view = seen(more=area, radio=", at: [200 mm, 40 mm]", supply=", at: [10 mm, 170 mm], mains: yes")
    assert ("supply", "outside") in {(m.subject, m.other) for m in view.mains}
    assert ("radio", "mains area") in {(m.subject, m.other) for m in view.mains}
    good = seen(
        more=area,
        radio=", at: [200 mm, 40 mm], mains: yes",
        block=", at: [10 mm, 40 mm]",
        supply=", at: [10 mm, 170 mm]",
    )
    assert [m.subject for m in good.mains] == []


def test_what_cannot_be_placed_is_a_complaint():
    view = plate_view(small("140 x 150 mm"))
    assert view.complaint is not None and "no place" in view.complaint.what
    assert view.fills == () and view.solver == "there"


def test_reach_is_measured_as_a_geometry_library_does(outside):
    """On the examples: what lies before each wired side, by distance between shapes."""
    worst, count = 0.0, 0
    for name in STATED:
        plan = example(name)
        things = [box(*stand.box) for stand in plan.stands] + [box(*duct.box) for duct in plan.ducts]
        for stand in plan.stands:
            own = box(*stand.box)
            for terminal in stand.body.terminals.values():
                side = stand.side(terminal)
                wanted = stand.body.wants["hands"][terminal.side]
                near = min(
                    own.distance(thing) for thing in things if not thing.equals(own) and _before(stand.box, side, thing)
                )
                count += 1
                worst = max(worst, max(0.0, wanted - near))
        assert plate_view_of(name).reaches == ()
    outside(
        source="shapely",
        place="distance",
        read="program",
        what="room before terminals of the examples",
        deviation=worst,
    )
    assert count > 30 and worst < 0.05


def plate_view_of(name: str) -> PlateView:
    from ohmstead.site.read import read_site

    return plate_view(read_site(STATED[name]))


def _before(own, side, thing) -> bool:
    left, top, right, bottom = thing.bounds
    beside = left < own.right and own.left < right
    level = top < own.bottom and own.top < bottom
    return {"top": beside and bottom <= own.top, "bottom": beside and top >= own.bottom,
            "left": level and right <= own.left, "right": level and left >= own.right}[side]  # fmt: skip
