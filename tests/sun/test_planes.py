"""Many facings of one array: each is what the array alone would give, facing that way."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from ohmstead.season.reckon import with_years
from ohmstead.site.read import read_site
from ohmstead.site.sky import Array, Obstacle
from ohmstead.sun import shade
from ohmstead.sun.cast import passing
from ohmstead.sun.field import field_of
from ohmstead.sun.harvest import harvest_w
from ohmstead.sun.planes import outlook_of, plane_w
from ohmstead.sun.scene import body_of
from ohmstead.sun.weather import read_hours

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.mark.parametrize("file", ["skerry/skerry-mended.yaml", "saltpan/saltpan.yaml"])
@pytest.mark.parametrize("facing", [(0.0, 180.0), (55.0, 175.0), (70.0, 250.0), (90.0, 20.0)])
def test_a_plane_is_the_array_that_faces_so(file: str, facing: tuple[float, float]) -> None:
    """Over two years: the fast way casts shadows in the first, the long way repeats them."""
    site = with_years(read_site(EXAMPLES / file), 2)
    hours = read_hours(site)
    name, array = next(iter(site.arrays.items()))
    turned = replace(site, arrays={name: replace(array, tilt_deg=facing[0], azimuth_deg=facing[1])})
    asked = harvest_w(turned, hours).by_array_w[name]
    found = plane_w(outlook_of(site, name, hours), facing)
    # Shadows are summed in single precision there. The sun moves by up to 0.4° from year to year, and what lies
    # right at the skyline may change sides.
    np.testing.assert_allclose(found[:8760], asked[:8760], rtol=1e-6, atol=1e-6)
    np.testing.assert_allclose(found, asked, rtol=1e-6, atol=1e-6)


def test_without_diodes_one_shaded_block_holds_back_its_string() -> None:
    site = with_years(read_site(EXAMPLES / "skerry" / "skerry-mended.yaml"), 1)
    array = replace(site.arrays["south field"], bypass=0)
    site = replace(site, arrays={"south field": array})
    hours = read_hours(site)
    asked = harvest_w(site, hours).by_array_w["south field"]
    found = plane_w(outlook_of(site, "south field", hours), (array.tilt_deg, array.azimuth_deg))
    np.testing.assert_allclose(found, asked, rtol=1e-6, atol=1e-6)


def test_compiled_shadows_are_those_of_numpy() -> None:
    """Random boxes, poles and trees around a field, some overlapping, rays from everywhere above."""
    dice = np.random.default_rng(3)
    field = field_of(Array(name="a", power_w=200.0, series=2, parallel=2, tilt_deg=40.0, azimuth_deg=170.0))
    for _ in range(12):
        bodies = [
            body_of(
                Obstacle(
                    name=str(number), shape=str(dice.choice(["box", "pole", "tree"])), east_m=dice.uniform(-8, 8),
                    north_m=dice.uniform(-8, 8), top_m=dice.uniform(0.5, 8), width_m=dice.uniform(0.1, 4),
                    depth_m=dice.uniform(0.5, 4), turned_deg=dice.uniform(0, 360),
                ),
                50.0,
            )
            for number in range(3)
        ]  # fmt: skip
        ray = dice.normal(size=(300, 3))
        ray[:, 2] = np.abs(ray[:, 2])
        ray /= np.linalg.norm(ray, axis=1)[:, None]
        month = dice.integers(0, 12, 300)
        asked, found = shade._passing(field, bodies, ray, month), passing(field, bodies, ray, month)
        assert (asked is None) == (found is None)
        if asked is not None and found is not None:
            np.testing.assert_array_equal(found[0], asked[0])
            np.testing.assert_allclose(found[1], asked[1], atol=1e-6)
            assert 0.0 <= found[1].min() < 1.0
