"""Lengths that the file leaves to the plan, what refuses them, and how full ducts are."""

from math import pi

import pytest
from shapely import LineString, box, union_all

from ohmstead.network.compile import compile_site
from ohmstead.plan.apply import difference, written
from ohmstead.plan.cords import wire_mm
from ohmstead.plan.lengths import planned
from ohmstead.plan.plan import plan_of
from ohmstead.site.problems import SiteError
from ohmstead.site.read import read_site, read_text
from ohmstead.study import Study, open_site
from plan.plates import EXAMPLES, STATED, example, found, small


@pytest.mark.parametrize("name", STATED)
def test_run_lengths_are_those_of_the_lines(name, outside):
    """A geometry library measures the drawn lines; rise and slack by hand."""
    plan, study = example(name), open_site(STATED[name])
    worst = 0.0
    for led in plan.wires:
        run = led.link.cord.run
        if run.origin_of("length_m") != "plan":
            continue
        rise = sum(abs(plan.stand(end.body).body.depth / 2 - 30) for end in led.link.ends)  # ducts are 60 mm high
        by_hand = (LineString(led.spots).length + rise) * 1.10 / 1000
        known = next(other for other in study.site.runs if other.number == run.number)
        worst = max(worst, abs(known.length_m / by_hand - 1))
    outside(source="shapely", place="LineString.length", read="program", what=f"run lengths from the plan, {name}",
            deviation=worst)  # fmt: skip
    assert 0 < worst < 0.005  # lengths are rounded to whole millimetres


@pytest.mark.parametrize("name", STATED)
def test_ducts_are_as_full_as_a_geometry_library_finds(name, outside):
    """Every duct is cut across each millimetre; circles of the wires that cross there are added up."""
    plan = example(name)
    worst = 0.0
    for fill in plan.fills:
        duct, most = fill.duct, 0.0
        low, high = duct.ends
        for step in range(int(low) + 1, int(high)):
            at = step + 0.37
            cut = (
                [(at, duct.box.top), (at, duct.box.bottom)]
                if duct.way == "level"
                else [(duct.box.left, at), (duct.box.right, at)]
            )
            knife, used = LineString(cut), 0.0
            for led in plan.wires:
                along = LineString(led.spots).intersection(box(*duct.box))
                crosses = along.intersection(knife)
                if not crosses.is_empty and _lies_along(led.spots, duct, at):
                    used += led.link.cord.count * pi / 4 * led.link.cord.diameter_mm**2
            most = max(most, used)
        worst = max(worst, abs(fill.used - most) / max(most, 1.0))
    outside(
        source="shapely",
        place="intersection",
        read="program",
        what=f"fullest place of each duct, {name}",
        deviation=worst,
    )
    assert worst < 1e-9


def _lies_along(spots, duct, at):
    """Does the line cross the cut lengthwise, and not just turn off there?"""
    for one, other in zip(spots, spots[1:], strict=False):
        if (
            duct.way == "level"
            and one[1] == other[1]
            and abs(one[1] - duct.line) < 1
            and min(one[0], other[0]) < at < max(one[0], other[0])
        ):
            return True
        if (
            duct.way == "upright"
            and one[0] == other[0]
            and abs(one[0] - duct.line) < 1
            and min(one[1], other[1]) < at < max(one[1], other[1])
        ):
            return True
    return False


def test_wires_cross_no_part(outside):
    plan = found()
    for led in plan.wires:
        own = [box(*stand.box.shrunk(0.01)) for stand in plan.stands]
        assert not LineString(led.spots).intersects(union_all(own))
    outside(
        source="shapely", place="intersects", read="program", what="wires of a found plan cross no part", deviation=None
    )


def test_lengths_are_filled_in_before_the_network_is_compiled():
    site = small()
    assert [run.length_m for run in site.runs] == [2.0, 0.0, 0.0]
    filled = planned(site)
    lengths = plan_of(site).lengths_m()
    assert [run.length_m for run in filled.runs[1:]] == [round(lengths[2], 3), round(lengths[3], 3)]
    assert [run.origin_of("length_m") for run in filled.runs] == ["stated", "plan", "plan"]
    assert compile_site(site).site.runs == filled.runs == Study(site).site.runs
    assert planned(filled) is filled


def test_a_site_without_such_lengths_is_left_alone(monkeypatch):
    monkeypatch.setattr("ohmstead.plan.plan.plan_of", None)
    site = read_site(EXAMPLES / "cabin" / "cabin.yaml")
    assert planned(site) is site


def test_slack_and_height_of_terminals_count():
    thin, ample = (plan_of(small(more=f"edge: 0 mm\n  slack: {slack} %")) for slack in (0, 50))
    for number, length in thin.lengths_m().items():
        assert ample.lengths_m()[number] == pytest.approx(1.5 * length)


def test_a_fuse_beyond_the_planned_length_is_told():
    text = small().text.replace("fuse: 10 A blade", "fuse: 10 A blade, fuse at: 3 m")
    with pytest.raises(SiteError) as told:
        Study(read_text(text, "small.yaml"))
    assert "fuse at 3 m sits beyond" in str(told.value)


def test_a_missing_solver_is_told(monkeypatch):
    def missing(*_):
        raise ImportError(name="ortools")

    monkeypatch.setattr("ohmstead.plan.plan.place", missing)
    with pytest.raises(SiteError) as told:
        plan_of(small("361 x 401 mm"))
    assert "ohmstead[plan]" in str(told.value)
    assert any(one.rule == "part-does-not-fit" for one in Study(read_text(
        small("362 x 402 mm").text.replace("from plan", "0.5 m"), "small.yaml")).findings)  # fmt: skip


def test_places_are_written_back_and_then_stay(tmp_path):
    site = small("420 x 520 mm", "ducts: 30 x 40 mm")
    plan = plan_of(site)
    text = written(site, plan)
    again = read_text(text, "small.yaml")
    fixed = plan_of(again)
    assert fixed.layout.how == "stated"
    assert fixed.layout.corners == plan.layout.corners
    assert fixed.lengths_m() == plan.lengths_m()
    assert written(again, fixed) == text
    changed = [line for line in difference(site.text, text, "small.yaml").splitlines() if line.startswith("+ ")]
    assert changed and all("at:" in line or "across" in line or "upright" in line for line in changed)


def test_a_plate_without_parts_gets_them_in_one_place():
    text = small().text
    bare = text[: text.index("  parts:\n    block: {size")]
    site = read_text(bare, "bare.yaml")
    again = read_text(written(site, plan_of(site)), "bare.yaml")
    assert plan_of(again).layout.how == "stated"


def test_diameters_lie_between_the_sizes_of_the_table():
    assert wire_mm(2.5) == 4.1
    assert 4.1 < wire_mm(3.3) < 4.8
    assert wire_mm(240) > 20.2
