"""The harvest of whole sites: what shade costs, and when."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from ohmstead.site.read import read_site, read_text
from ohmstead.sun.harvest import feeds, harvest_w, month_of, monthly_wh, obstacle_costs
from ohmstead.sun.horizon import HorizonError, read_skyline
from sun.places import clear_hours

EXAMPLES = Path(__file__).parents[2] / "examples"
SITE = """ohmstead: 1
site: {latitude: -33.95, longitude: 151.18}
parts: {sun charger: {kind: charger, from: sun, voltage: 28.4 V, current: 40 A}}
arrays: {roof: {module power: 250 W, in series: 2, tilt: 30°, azimuth: 0°, width: 2 m, height: 1.6 m, zone: out}}
zones: {out: {air: 0..35 °C}}
"""


GUM = "top: 5 m, bottom: -3 m, width: 4 m, light leafless: 0 %"


def with_tree(north: str) -> str:
    return SITE + f"shade: {{obstacles: {{gum: {{shape: tree, north: {north}, {GUM}}}}}}}"


def test_skerry_loses_to_each_of_its_obstacles():
    site, hours = read_site(EXAMPLES / "skerry" / "skerry.yaml"), clear_hours(57.6, -7.5)
    found = harvest_w(site, hours)
    shaded, bare = found.by_array_w["south field"], found.unshaded_w["south field"]
    assert (shaded <= bare + 1e-9).all()
    costs = obstacle_costs(site, hours)
    assert set(costs) == {"rowan", "mast", "horizon"}
    assert all((cost >= -1e-6).all() and cost.sum() > 0 for cost in costs.values())
    together = (bare - shaded).sum()
    assert together < sum(cost.sum() for cost in costs.values()) * 1.5
    assert feeds(site) == {"sun charger": ("south field",)}
    assert month_of(hours)[[0, 743, 744, 8759]].tolist() == [0, 0, 1, 11]


def test_a_tree_bites_where_geometry_says():
    """Sydney, 21 June: a crown 5 m above the panels blocks the noon sun (32.6°) from 7 m away and not from 10 m.

    tan(altitude) against top over distance: 35.5° and 26.6° (worked by hand).
    """
    hours = clear_hours(-33.95, 151.18, 10.0)
    noon = 171 * 24 + 11  # the hour around 12:00; 151.18° E is 10 h 5 min
    for north, blocked in (("7 m", True), ("10 m", False)):
        site = read_text(with_tree(north))
        found = harvest_w(site, hours)
        share = found.by_array_w["roof"][noon] / found.unshaded_w["roof"][noon]
        assert (share < 0.4) == blocked and (share > 0.9) != blocked


def test_leaves_follow_the_half_of_the_earth():
    """Without months stated, a tree north of the equator is bare in January, one south of it in July."""
    hours = clear_hours(-33.95, 151.18, 10.0)
    site = read_text(with_tree("7 m"))
    leafless = replace(site, obstacles={"gum": replace(site.obstacles["gum"], summer_fraction=0.7)})
    change = monthly_wh(harvest_w(leafless, hours).total_w() - harvest_w(site, hours).total_w(), hours)
    assert change[5] == pytest.approx(0.0, abs=1e-6)
    assert change[[10, 11, 0, 1]].sum() > 0


def test_a_sunny_late_spring_day():
    """Common practice, no source: 600 W on a roof give about 3.5 kWh on a cloudless late-spring day."""
    site = read_text(
        SITE.replace("-33.95", "38.7")
        .replace("151.18", "-9.2")
        .replace("250 W", "300 W")
        .replace("azimuth: 0°", "azimuth: 180°")
    )
    found = harvest_w(site, clear_hours(38.7, -9.2)).by_array_w["roof"].reshape(365, 24)
    assert 3000 < found[140].sum() < 4600


def test_polar_night_gives_nothing():
    site = read_text(SITE.replace("-33.95", "78.2").replace("151.18", "15.6"))
    assert harvest_w(site, clear_hours(78.2, 15.6, 1.0)).total_w().reshape(365, 24)[350:].sum() == 0


def test_years_repeat_and_shadows_with_them():
    site = read_text(with_tree("7 m"))
    one, three = (harvest_w(site, clear_hours(-33.95, 151.18, 10.0, n)).by_array_w["roof"] for n in (1, 3))
    assert three[:8760] == pytest.approx(one)
    assert three[17520:].sum() == pytest.approx(one.sum(), rel=0.003)


def test_switching_controller_gives_current():
    text = (
        SITE.replace("from: sun,", "from: sun, type: switching,")
        .replace(
            "250 W,",
            "250 W, working voltage: 30.6 V, open voltage: 37.8 V, working current: 8.17 A, short current: 8.6 A,",
        )
        .replace("in series: 2", "in series: 1")
    )
    found = harvest_w(read_text(text), clear_hours(-33.95, 151.18, 10.0))
    amps, watts = found.by_array_a["roof"], found.by_array_w["roof"]
    assert 6.5 < amps.max() < 9.5
    assert (amps * 26.4 <= watts * 1.08 + 1).all()


def test_skyline_file(tmp_path):
    path = tmp_path / "line.csv"
    path.write_text("azimuth,elevation\n# by compass\n0,2\n180,11.5\n", encoding="utf-8")
    assert read_skyline(path).tolist() == [[0.0, 2.0], [180.0, 11.5]]
    path.write_text("azimuth,elevation\n0,2\n180,high\n", encoding="utf-8")
    with pytest.raises(HorizonError, match="line 3"):
        read_skyline(path)
    with pytest.raises(HorizonError, match="cannot be read"):
        read_skyline(tmp_path / "none.csv")


def test_no_shade_costs_nothing():
    found = harvest_w(read_text(SITE), clear_hours(-33.95, 151.18, 10.0))
    assert found.by_array_w["roof"] is found.unshaded_w["roof"]
    assert np.isfinite(found.total_w()).all()
