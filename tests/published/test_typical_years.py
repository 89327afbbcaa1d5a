"""Typical years TMY2 and TMY3 of the United States, in pvlib's wheel; yearly sums reckoned apart from the product."""

import shutil
from pathlib import Path

import numpy as np
import pvlib
import pytest

from ohmstead.sun.daylight import cos_zenith
from ohmstead.sun.weather import read_hours
from sun.skies import site

DATA = Path(pvlib.__file__).parent / "data"
FILES = [
    ("703165TY.csv", "tmy3", 55.317, -9, 829), ("723170TYA.CSV", "tmy3", 36.1, -5, 1566),
    ("12839.tm2", "tmy2", 25.8, -5, 1793),
]  # fmt: skip


@pytest.mark.parametrize("name, form, latitude, zone, total", FILES)
def test_yearly_sun(tmp_path, name, form, latitude, zone, total, outside):
    shutil.copy(DATA / name, tmp_path / name)
    hours = read_hours(site(f"{{file: {name}, format: {form}}}", None), tmp_path)
    found = hours.ghi_w_per_m2.sum() / 1000
    outside(source="tmy-manuals", place=name, read="computed", what="yearly sun on the level, kWh/m²",
            deviation=float(found / total - 1))  # fmt: skip
    assert found == pytest.approx(total, abs=0.5)
    assert hours.latitude == pytest.approx(latitude) and hours.timezone == f"UTC{zone}"
    assert not any("stands" in note for note in hours.notes)


@pytest.mark.parametrize("name, form, latitude, zone, total", FILES)
def test_beam_and_sky_make_the_sun_on_the_level(tmp_path, name, form, latitude, zone, total):
    """Only when hours are labelled rightly does level = beam · cos z + sky close; an hour off, it does not."""
    shutil.copy(DATA / name, tmp_path / name)
    hours = read_hours(site(f"{{file: {name}, format: {form}}}", None), tmp_path)

    def miss(shift_s: int) -> float:
        high = cos_zenith(hours.middle_utc_s + shift_s, hours.latitude, hours.longitude)
        day = high > 0.15
        summed = hours.dni_w_per_m2 * high + hours.dhi_w_per_m2
        return float(np.abs(summed - hours.ghi_w_per_m2)[day].sum() / hours.ghi_w_per_m2[day].sum())

    assert miss(0) < 0.03
    assert miss(3600) > 2 * miss(0) and miss(-3600) > 2 * miss(0)
