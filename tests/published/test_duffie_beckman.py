"""Worked examples of Duffie and Beckman, Solar engineering of thermal processes, chapters 1, 2 and 5."""

from datetime import UTC, datetime

import numpy as np
import pytest

from ohmstead.sun.daylight import extra_w_per_m2, solar_hour
from ohmstead.sun.dome import sky_view
from ohmstead.sun.plane import cos_incidence
from ohmstead.sun.sky import sun_at

BOOK = "duffie-beckman"


def utc(*when: int) -> int:
    return int(datetime(*when, tzinfo=UTC).timestamp())


def over_a_day(latitude: float, declination_deg: float, season: tuple[int, int]) -> tuple[float, float]:
    """Extraterrestrial sun on the level [MJ/m²] and length of the day [h], minute by minute.

    Taken on the day between two months on which the sun has the declination that the example reckons with: the
    examples find it by a rough formula, off by up to half a degree from where the sun stands on their date.
    """
    search = np.arange(utc(2010, season[0], 1), utc(2010, season[1], 28), 60)
    noon = search[np.abs(sun_at(search, latitude, 0.0).declination_deg - declination_deg).argmin()]
    sun = sun_at(noon + 60 * np.arange(-720, 720) + 30, latitude, 0.0)
    high = np.radians(latitude)
    tilt, angle = np.radians(sun.declination_deg), np.radians(sun.hour_angle_deg)
    up = np.sin(high) * np.sin(tilt) + np.cos(high) * np.cos(tilt) * np.cos(angle)
    return float((sun.extra_w_per_m2 * np.maximum(up, 0.0)).sum() * 60 / 1e6), float((up > 0).sum() / 60)


def test_example_1_5_1_solar_time(outside):
    """Madison, 3 February, 10:30 of the clock at 89.4° W: the sun says 10:19."""
    found = solar_hour(np.array([utc(2004, 2, 3, 16, 30)]), -89.4)[0]
    angle = sun_at(np.array([utc(2004, 2, 3, 16, 30)]), 43.0, -89.4).hour_angle_deg[0]
    outside(source=BOOK, place="example 1.5.1", read="second-hand", what="solar time",
            deviation=abs((12 + angle / 15) / (10 + 19 / 60) - 1))  # fmt: skip
    assert found == pytest.approx(10 + 19 / 60, abs=1 / 60)
    assert 12 + angle / 15 == pytest.approx(10 + 19 / 60, abs=1 / 60)


def test_example_1_6_1_incidence(outside):
    """Latitude 43°, declination -14°, tilt 45°, 15° west of south, hour angle -22.5°: cos θ = 0.817, θ = 35°."""
    high, tilt, angle = np.radians([43.0, -14.0, -22.5])
    up = np.sin(high) * np.sin(tilt) + np.cos(high) * np.cos(tilt) * np.cos(angle)
    south = np.sin(high) * np.cos(tilt) * np.cos(angle) - np.cos(high) * np.sin(tilt)
    zenith, azimuth = np.degrees(np.arccos(up)), np.degrees(np.arctan2(np.cos(tilt) * np.sin(angle), south)) + 180
    found = cos_incidence(np.array([zenith]), np.array([azimuth]), 45.0, 195.0)[0]
    outside(source=BOOK, place="example 1.6.1", read="second-hand", what="incidence on a tilted plane",
            deviation=abs(found / 0.817 - 1))  # fmt: skip
    assert found == pytest.approx(0.817, abs=0.0006)
    assert np.degrees(np.arccos(found)) == pytest.approx(35.0, abs=0.5)


def test_figure_1_4_1_distance_of_the_sun(outside):
    """Day 60: 1392 W/m² with 1366.1 W/m² at the mean distance (Spencer's series)."""
    found = float(np.mean([extra_w_per_m2(np.array([utc(year, 3, 1, 12)]))[0] for year in range(2001, 2017)]))
    outside(source=BOOK, place="figure 1.4.1", read="second-hand", what="sun outside the air",
            deviation=abs(found / 1392.0 - 1))  # fmt: skip
    assert found == pytest.approx(1392.0, rel=0.001)


def test_example_1_10_1_daily_sun(outside):
    """Latitude 43° N, declination 9.41°: sunset at 98.9°, 33.8 MJ/m² a day with a solar constant of 1367 W/m²."""
    found_mj, found_h = over_a_day(43.0, 9.41, (3, 5))
    found_mj *= 1367.0 / 1366.1
    outside(source=BOOK, place="example 1.10.1", read="from memory", what="sun of a day outside the air",
            deviation=abs(found_mj / 33.8 - 1))  # fmt: skip
    assert found_mj == pytest.approx(33.8, rel=0.003)
    assert found_h == pytest.approx(2 * 98.9 / 15, abs=0.03)


@pytest.mark.parametrize("tilt", [0.0, 30.0, 60.0, 90.0])
def test_section_2_14_open_sky(tilt, outside):
    """An open sky gives a tilted plane (1 + cos β) / 2."""
    expected = (1 + np.cos(np.radians(tilt))) / 2
    found = sky_view(tilt, 200.0, None)
    outside(source=BOOK, place="2.14", read="from memory", what="sky seen by a tilted plane",
            deviation=abs(found / expected - 1))  # fmt: skip
    assert found == pytest.approx(expected, rel=2e-4)
