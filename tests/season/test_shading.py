"""What stands in the light: its cost by month and hour, and the pictures of it."""

import json
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest

from ohmstead.cli.main import main
from ohmstead.season.reckon import with_years
from ohmstead.season.shading import DAYS, only, shading_of
from ohmstead.season.sky_picture import sky
from ohmstead.site.model import Site
from ohmstead.site.read import read_site
from ohmstead.sun.sky import sun_at
from ohmstead.sun.weather import read_hours

EXAMPLES = Path(__file__).parents[2] / "examples"
SKERRY = EXAMPLES / "skerry" / "skerry-mended.yaml"


@pytest.fixture(scope="module")
def skerry() -> Site:
    return with_years(read_site(SKERRY), 2)


def test_hours_of_the_day_add_up_to_the_months(skerry: Site) -> None:
    found = shading_of(skerry, read_hours(skerry))
    for array, days in found.open_day_w.items():
        np.testing.assert_allclose(days.sum(axis=1) * DAYS, found.open_wh[array], rtol=1e-9)
        shaded = found.shaded_day_w[array]
        np.testing.assert_allclose(shaded.sum(axis=1) * DAYS, found.shaded_wh[array], rtol=1e-9)
        assert (shaded <= days + 1e-9).all()
    np.testing.assert_allclose(found.lost_wh, found.all_open_wh - sum(found.shaded_wh.values()))
    assert set(found.costs_wh) == {"rowan", "mast", "horizon"}
    assert found.table()["together"].to_numpy() == pytest.approx(found.lost_wh / DAYS)
    assert found.whole_year()["rowan"][0] * 365 == pytest.approx(found.costs_wh["rowan"].sum())
    # alone in the light, an obstacle costs what it takes from an open place
    lone = replace(skerry, horizon=None, obstacles={"rowan": skerry.obstacles["rowan"]})
    alone = shading_of(lone, read_hours(lone))
    np.testing.assert_allclose(alone.costs_wh["rowan"], alone.lost_wh, rtol=1e-9, atol=1e-6)


def test_a_tree_in_the_south_west_takes_its_bite_after_noon(skerry: Site) -> None:
    """The rowan stands in the south-south-west, as high as the sun in October: it costs most then, early afternoon."""
    lone = replace(skerry, horizon=None, obstacles={"rowan": skerry.obstacles["rowan"]})
    found = shading_of(lone, read_hours(lone))
    assert int(found.costs_wh["rowan"].argmax()) == 9
    lost = found.open_day_w["south field"][9] - found.shaded_day_w["south field"][9]
    assert int(lost.argmax()) in (13, 14)


def test_one_array_is_shaded_by_its_own_obstacles() -> None:
    site = read_site(EXAMPLES / "saltpan" / "saltpan.yaml")
    assert list(only(site, "east rack").obstacles) == []
    assert list(only(site, "west rack").obstacles) == ["mast"]


@pytest.mark.parametrize("latitude", [57.6, 0.5, -33.9, 78.0])
def test_the_sky_is_drawn_anywhere(skerry: Site, latitude: float) -> None:
    """North, at the equator, south, and where the sun stays up or down for weeks."""
    hours = replace(read_hours(skerry), latitude=latitude)
    site = replace(skerry, about=replace(skerry.about, latitude=latitude))
    text = sky(site, "south field", hours)
    assert ElementTree.fromstring(text).tag.endswith("svg")
    assert "nan" not in text
    assert text.count("<circle") > 40


def test_the_paths_are_where_the_sun_is(skerry: Site) -> None:
    """The mark of noon on 21 September lies at the height that the sun has then, read back from the picture."""
    hours = read_hours(skerry)
    text = sky(skerry, "south field", hours)
    noon = sun_at(
        np.array([1789992000]), hours.latitude, hours.longitude, hours.elevation_m
    )  # 21 September 2026, 12:00 UTC
    floor = 46 + 24 + 5.2 * 70.0
    height = floor - float(noon.elevation_deg[0]) * 5.2
    across = 62.0 + 880.0 * ((float(noon.azimuth_deg[0]) - 180.0) / 150.0 + 1.0) / 2.0
    assert f'<circle cx="{across:.1f}" cy="{height:.1f}"' in text


def test_the_command_tells_each_cost(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out"
    assert main(["shade", str(SKERRY), "--years", "1", "--pictures", str(out), "--csv", str(out), "--png"]) == 0
    said = capsys.readouterr().out
    assert "rowan" in said and "all together" in said and "October" in said
    for name in ("shade.svg", "sky-south-field.svg", "day-south-field.svg", "shade.png", "shade-by-month.csv"):
        assert (out / name).stat().st_size > 500
    assert main(["shade", str(SKERRY), "--years", "1", "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert len(document["costs_wh"]["rowan"]) == 12 and len(document["days"]["south field"]["open_w"]) == 12
    assert main(["shade", str(SKERRY), "--array", "barn"]) == 2
    assert "no array 'barn'" in capsys.readouterr().err
    assert main(["shade", str(EXAMPLES / "cabin" / "cabin.yaml")]) == 2
    assert "no section `arrays`" in capsys.readouterr().err
