"""The path of the sun: both halves of the earth, beyond the polar circle, zones of half an hour, memory."""

import numpy as np
import pytest

from ohmstead.sun.sky import rays, sun_at, sun_path
from sun.places import NEW_YEAR_S, clear_hours


def noon_of_midsummer(latitude, longitude=0.0):
    day = NEW_YEAR_S + 172 * 86400 + 60 * np.arange(1440)
    sun = sun_at(day, latitude, longitude)
    at = sun.zenith_deg.argmin()
    return sun.elevation_deg[at], sun.azimuth_deg[at]


def test_noon_stands_south_in_the_north_and_north_in_the_south():
    high, around = noon_of_midsummer(57.6)
    assert high == pytest.approx(90 - 57.6 + 23.43, abs=0.05)
    assert around == pytest.approx(180.0, abs=0.5)
    high, around = noon_of_midsummer(-33.95)
    assert high == pytest.approx(90 - 33.95 - 23.43, abs=0.05)
    assert abs((around + 180) % 360 - 180) < 0.5


def test_polar_night_and_midnight_sun():
    hours = clear_hours(78.2, 15.6, 1.0)
    up = (sun_path(hours).elevation_deg > 0).reshape(365, 24).sum(axis=1)
    assert up[355] == up[10] == 0
    assert up[172] == 24
    assert hours.ghi_w_per_m2.reshape(365, 24)[355].sum() == 0


def test_zone_of_half_an_hour_only_moves_the_stamps():
    whole, half = clear_hours(23.0, 72.6, 5.0), clear_hours(23.0, 72.6, 5.5)
    assert (whole.start_utc_s - half.start_utc_s == 1800).all()
    noon = sun_path(half).elevation_deg.reshape(365, 24).argmax(axis=1)
    assert set(noon) == {12}  # 72.6° E is 4 h 50 min: the sun stands highest near 12:40 of the zone
    both = sun_at(half.middle_utc_s + 1800, 23.0, 72.6).zenith_deg
    assert sun_path(whole).zenith_deg == pytest.approx(both)


def test_the_path_is_remembered():
    hours = clear_hours(10.0, 10.0)
    assert sun_path(hours) is sun_path(clear_hours(10.0, 10.0))
    assert sun_path(hours) is not sun_path(clear_hours(10.5, 10.0))


def test_rays_turn_with_the_sky():
    """Turned on by 15°, the ray of an hour is that of the next."""
    hours = clear_hours(46.0, 8.0)
    path = sun_path(hours)
    at = np.flatnonzero((path.elevation_deg[:-1] > 5) & (path.elevation_deg[1:] > 5))
    later = rays(path, at, 15.0)
    up, around = np.radians(path.elevation_deg[at + 1]), np.radians(path.azimuth_deg[at + 1])
    next_ray = np.stack([np.cos(up) * np.sin(around), np.cos(up) * np.cos(around), np.sin(up)], axis=-1)
    assert np.degrees(np.arccos(np.clip((later * next_ray).sum(axis=-1), -1, 1))).max() < 0.15
    assert np.abs((later**2).sum(axis=-1) - 1).max() < 1e-9
