"""Sun path, tilted planes, cells and power against the same chain made of pvlib's functions, on its weather years."""

import numpy as np
import pandas as pd
import pvlib
import pytest

from ohmstead.site.sky import Array
from ohmstead.sun.field import field_of
from ohmstead.sun.harvest import at_controller, month_of
from ohmstead.sun.module import by_month
from ohmstead.sun.plane import plane, through_glass
from ohmstead.sun.shade import no_shade
from ohmstead.sun.sky import sun_at, sun_path
from oracle.weather_years import FILES, year_of

PLANES = [(0.0, 180.0), (35.0, 180.0), (60.0, 135.0), (90.0, 270.0)]
PLACES = [(57.6, -7.5), (-34.0, 151.2), (0.1, 30.0), (78.2, 15.6), (23.0, 72.6)]


def reference(hours):
    when = pd.to_datetime(hours.middle_utc_s, unit="s", utc=True)
    sun = pvlib.solarposition.get_solarposition(when, hours.latitude, hours.longitude, altitude=hours.elevation_m)
    return when, sun


def stands(sun):
    return sun["apparent_zenith"].to_numpy(), sun["azimuth"].to_numpy()


@pytest.mark.parametrize(("latitude", "longitude"), PLACES)
def test_path_of_the_sun(latitude, longitude, outside):
    """Ten years at every seventh hour: within 0.012° of the full algorithm, also beyond the polar circle."""
    moment = np.arange(1_577_836_800, 1_577_836_800 + 10 * 31_536_000, 7 * 3600)
    ours = sun_at(moment, latitude, longitude, 12.0)
    when = pd.to_datetime(moment, unit="s", utc=True)
    theirs = pvlib.solarposition.spa_python(when, latitude, longitude, altitude=12.0)
    seen = theirs["apparent_elevation"].to_numpy() > -0.2
    high = np.abs(ours.zenith_deg - theirs["apparent_zenith"].to_numpy())[seen].max()
    around = np.abs((ours.azimuth_deg - theirs["azimuth"].to_numpy() + 180) % 360 - 180)
    around = (around * np.sin(np.radians(theirs["zenith"].to_numpy())))[seen].max()
    outside(source="pvlib", place="spa_python", read="program", what="path of the sun over ten years",
            deviation=max(high, around) / 90)  # fmt: skip
    assert max(high, around) < 0.012


@pytest.mark.parametrize("name", FILES)
@pytest.mark.parametrize(("tilt", "azimuth"), PLANES)
def test_sun_in_the_plane(name, tilt, azimuth, outside):
    _, hours = year_of(name)
    when, sun = reference(hours)
    extra = pvlib.irradiance.get_extra_radiation(when).to_numpy()
    theirs = pvlib.irradiance.get_total_irradiance(
        tilt, azimuth, *stands(sun), hours.dni_w_per_m2, hours.ghi_w_per_m2, hours.dhi_w_per_m2, dni_extra=extra,
        albedo=0.2, model="haydavies",
    )  # fmt: skip
    ours = plane(hours, sun_path(hours), (tilt, azimuth), np.full(hours.n_hour, 0.2))
    wanted = np.nan_to_num(theirs["poa_global"])
    off = abs(ours.total_w_per_m2.sum() / wanted.sum() - 1)
    outside(source="pvlib", place="get_total_irradiance, Hay and Davies", read="program",
            what="sun of a year in the plane", deviation=off)  # fmt: skip
    assert off < 0.002
    assert np.abs(ours.total_w_per_m2 - wanted).mean() < 1.0


@pytest.mark.parametrize("name", FILES)
def test_against_another_parting_of_the_sky(name, outside):
    """Perez parts the sky more finely; over a year the two agree within 4 % on a plane that faces the sun."""
    _, hours = year_of(name)
    when, sun = reference(hours)
    theirs = pvlib.irradiance.get_total_irradiance(
        35.0, 180.0, *stands(sun), hours.dni_w_per_m2, hours.ghi_w_per_m2, hours.dhi_w_per_m2, albedo=0.2,
        model="perez",
        dni_extra=pvlib.irradiance.get_extra_radiation(when).to_numpy(),
        airmass=pvlib.atmosphere.get_relative_airmass(sun["apparent_zenith"].to_numpy()),
    )  # fmt: skip
    ours = plane(hours, sun_path(hours), (35.0, 180.0), np.full(hours.n_hour, 0.2)).total_w_per_m2.sum()
    off = abs(ours / np.nansum(theirs["poa_global"]) - 1)
    outside(source="pvlib", place="get_total_irradiance, Perez", read="program", what="sun of a year in the plane",
            deviation=off)  # fmt: skip
    assert off < 0.04


@pytest.mark.parametrize("mounting", ["open", "close to roof", "on insulation"])
@pytest.mark.parametrize("name", FILES)
def test_power_of_an_array(name, mounting, outside):
    """Plane, glass, cell temperature and power in one, on an open place."""
    _, hours = year_of(name)
    when, sun = reference(hours)
    tilt, azimuth = 40.0, 190.0
    extra = pvlib.irradiance.get_extra_radiation(when).to_numpy()
    sky = pvlib.irradiance.get_total_irradiance(
        tilt, azimuth, *stands(sun), hours.dni_w_per_m2, hours.ghi_w_per_m2, hours.dhi_w_per_m2, dni_extra=extra,
        albedo=0.2, model="haydavies",
    )  # fmt: skip
    split = pvlib.irradiance.haydavies(
        tilt, azimuth, hours.dhi_w_per_m2, hours.dni_w_per_m2, extra, *stands(sun), return_components=True,
    )  # fmt: skip
    aoi = pvlib.irradiance.aoi(tilt, azimuth, *stands(sun))
    glass = pvlib.iam.ashrae(aoi, 0.05)
    grey = pvlib.iam.ashrae(59.7 - 0.1388 * tilt + 0.001497 * tilt**2, 0.05)
    low = pvlib.iam.ashrae(90 - 0.5788 * tilt + 0.002693 * tilt**2, 0.05)
    light = (sky["poa_direct"] + split["poa_circumsolar"]) * glass
    light = light + split["poa_isotropic"] * grey + sky["poa_ground_diffuse"] * low
    named = {"open": "open_rack_glass_polymer", "close to roof": "close_mount_glass_glass",
             "on insulation": "insulated_back_glass_polymer"}  # fmt: skip
    thermal = pvlib.temperature.TEMPERATURE_MODEL_PARAMETERS["sapm"][named[mounting]]
    light = np.nan_to_num(light)
    cells = pvlib.temperature.sapm_cell(light, hours.air_c, hours.wind_m_per_s, **thermal)
    wanted = np.maximum(pvlib.pvsystem.pvwatts_dc(light, cells, 400.0, -0.0035), 0.0)
    array = Array(name="a", power_w=200.0, series=2, tilt_deg=tilt, azimuth_deg=azimuth, mounting=mounting,
                  soiling_fraction=(0.0,), mismatch_fraction=0.0, wiring_fraction=0.0)  # fmt: skip
    ground = by_month(array.albedo_fraction, month_of(hours))
    path = sun_path(hours)
    sun_there = plane(hours, path, (tilt, azimuth), ground)
    ours, _ = at_controller(array, hours, sun_there, (field_of(array), no_shade(path)))
    off = abs(ours.sum() / wanted.sum() - 1)
    outside(source="pvlib", place="chain of its functions", read="program", what="power of an array over a year",
            deviation=off)  # fmt: skip
    assert off < 0.003


def test_glass(outside):
    angle = np.linspace(0, 89, 90)
    off = np.abs(through_glass(np.cos(np.radians(angle))) - pvlib.iam.ashrae(angle, 0.05)).max()
    outside(source="pvlib", place="iam.ashrae", read="program", what="light through glass at a slant", deviation=off)
    assert off < 1e-9
