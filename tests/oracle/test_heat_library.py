"""General libraries of heat transfer, flow and sky as second opinion on every correlation of the cabinet."""

from math import radians, sqrt

import numpy as np
import pandas as pd
import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from fluids.core import Prandtl, dP_from_K
from fluids.flow_meter import C_Reader_Harris_Gallagher
from ht import Nu_horizontal_plate_McAdams, Nu_vertical_plate_Churchill, q_rad
from ht.conv_external import Nu_external_horizontal_plate
from pvlib import clearsky, irradiance, solarposition

from ohmstead.heat import kernel
from ohmstead.heat.air import density_kg_per_m3, pressure_pa
from ohmstead.heat.box import Fan, Opening
from ohmstead.heat.fan import fan_curve, way_pa
from ohmstead.heat.sunlit import clear_sky_w_per_m2, day_on_faces, sky_share


def worst_of(pairs):
    """Largest relative difference."""
    return max(abs(a / b - 1) for a, b in pairs)


def test_standing_plate(outside):
    rayleigh = np.logspace(2, 11, 40)
    pairs = [
        (kernel.upright_nusselt(ra, kernel.upright_pull(pr)), Nu_vertical_plate_Churchill(pr, ra / pr))
        for ra in rayleigh
        for pr in (0.69, 0.72)
    ]
    outside(
        source="ht",
        place="Nu_vertical_plate_Churchill",
        read="program",
        what="standing plate in free air",
        deviation=worst_of(pairs),
    )
    assert worst_of(pairs) < 1e-12


def test_fire_screen(outside):
    """Glass 0.71 m high, 232 °C in air of 23 °C: Ra 1.813e9, Nu 147, h 7.0 W/(m²·K), 1060 W; from memory."""
    k, nu, alpha, pr, beta = 0.0338, 26.4e-6, 38.3e-6, 0.69, 1 / 400
    rayleigh = 9.8 * beta * 209.0 * 0.71**3 / (nu * alpha)
    nusselt = kernel.upright_nusselt(rayleigh, kernel.upright_pull(pr))
    film = nusselt * k / 0.71
    found = [rayleigh, nusselt, film, film * 1.02 * 0.71 * 209.0]
    outside(
        source="incropera",
        place="example 9.2",
        read="from memory",
        what="glass screen before a fire",
        deviation=worst_of(zip(found, (1.813e9, 147.0, 7.0, 1060.0), strict=True)),
    )
    assert found == pytest.approx([1.813e9, 147.0, 7.0, 1060.0], rel=0.002)


@pytest.mark.parametrize("rises", [True, False])
def test_level_plate(rises, outside):
    """The same but between 4.7e6 and 1e7, where the textbook jumps down by 6 % and we go on smoothly."""
    rayleigh = np.logspace(4, 9.9, 60)  # up to where the textbook ends
    pairs = {
        ra: (kernel.level_nusselt(ra, rises), Nu_horizontal_plate_McAdams(0.71, ra / 0.71, buoyancy=rises))
        for ra in rayleigh
    }
    smooth = [pair for ra, pair in pairs.items() if not (rises and 4.6e6 < ra < 1.01e7)]
    outside(
        source="ht",
        place="Nu_horizontal_plate_McAdams",
        read="program",
        what="level plate in free air",
        deviation=worst_of(smooth),
    )
    assert worst_of(smooth) < 1e-9
    assert worst_of(pairs.values()) < 0.07


def test_radiation(outside):
    pairs = []
    for hot, cold in ((30.0, 20.0), (80.0, 45.0), (-20.0, 0.0)):
        theirs = q_rad(0.9, hot + 273.15, cold + 273.15) / (hot - cold)
        pairs.append((kernel.radiant(0.9, hot, cold), theirs))
    outside(source="ht", place="q_rad", read="program", what="grey radiation as a film", deviation=worst_of(pairs))
    assert worst_of(pairs) < 2e-6  # their constant is that of 2014


def test_blown_plate(outside):
    """Box faces are blunt: measured blown films are above those of a thin flat plate, up to twice."""
    ratios = []
    for wind in (0.5, 1.0, 3.0, 6.0):
        reynolds = wind * 0.5 / 15.6e-6
        ours = 0.86 * sqrt(reynolds) * 0.71 ** (1 / 3)
        ratios.append(ours / Nu_external_horizontal_plate(reynolds, 0.71))
    outside(
        source="ht",
        place="Nu_external_horizontal_plate",
        read="program",
        what="blown blunt face over a flat plate",
        deviation=max(ratios) - 1,
    )
    assert all(1.0 < r < 2.0 for r in ratios)


def test_properties_of_air(outside):
    """Viscosity, conductivity, pressure and density through the standard atmosphere."""
    pairs = []
    for height in (0.0, 500.0, 1500.0, 3000.0, 5000.0):
        air = ATMOSPHERE_1976(height)
        pairs.append((kernel.viscosity(air.T), air.mu))
        pairs.append((kernel.conductivity(air.T), air.k))
        pairs.append((pressure_pa(height), air.P))
        pairs.append((density_kg_per_m3(air.T - 273.15, air.P), air.rho))
    outside(
        source="fluids",
        place="ATMOSPHERE_1976",
        read="program",
        what="viscosity, conductivity, pressure, density",
        deviation=worst_of(pairs),
    )
    assert worst_of(pairs) < 0.002
    warm = [Prandtl(Cp=1006.0, k=kernel.conductivity(t), mu=kernel.viscosity(t)) for t in (273.15, 300.0, 340.0)]
    assert all(0.69 < pr < 0.72 for pr in warm)


def test_pressure_of_openings(outside):
    """Our two openings in a row against loss coefficients 1 / C² of each."""
    fan = Fan("fan", 0.5, "out", fan_curve(0.02, 40.0), 2.0, 0.01, free_fraction=0.6)
    pairs = []
    for volume in (0.002, 0.01, 0.02):
        theirs = sum(dP_from_K(K=1 / 0.6**2, rho=1.15, V=volume / area) for area in (0.006, 0.004))
        pairs.append((way_pa(fan, volume, 0.6 * 0.004, 1.15), theirs))
    outside(
        source="fluids", place="dP_from_K", read="program", what="guard and vent in a row", deviation=worst_of(pairs)
    )
    assert worst_of(pairs) < 0.001


def test_discharge_of_a_hole(outside):
    """A small sharp hole at any speed of a cabinet: 0.60 of the ideal flow."""
    found = [C_Reader_Harris_Gallagher(D=1.0, Do=0.1, rho=1.15, mu=1.9e-5, m=m, taps="corner") for m in (0.05, 0.5)]
    ours = Opening("vent", 0.1, 0.001).discharge_fraction
    outside(
        source="fluids",
        place="C_Reader_Harris_Gallagher",
        read="program",
        what="discharge of a sharp-edged hole",
        deviation=worst_of((ours, x) for x in found),
    )
    assert found == pytest.approx([ours, ours], rel=0.03)


def test_clear_sky_and_its_split(outside):
    zenith = np.array([5.0, 30.0, 60.0, 80.0])
    sky = clearsky.haurwitz(pd.Series(zenith))["ghi"].to_numpy()
    pairs = [(clear_sky_w_per_m2(np.cos(radians(z))), s) for z, s in zip(zenith, sky, strict=True)]
    for ghi in (100.0, 350.0, 600.0, 850.0, 1100.0):
        theirs = irradiance.erbs(ghi, 0.0, 80)
        pairs.append((sky_share(ghi / irradiance.get_extra_radiation(80)), theirs["dhi"] / ghi))
    outside(
        source="pvlib",
        place="haurwitz, erbs",
        read="program",
        what="clear sky and the share of its grey light",
        deviation=worst_of(pairs),
    )
    assert worst_of(pairs) < 1e-6


@pytest.mark.parametrize("latitude, day, front", [(24.0, 172, 180.0), (57.6, 172, 135.0), (-33.0, 355, 20.0)])
def test_sun_on_faces(latitude, day, front, outside):
    """Six faces by hour against the full chain of a solar library, on the meridian: within 25 W/m²."""
    ours = day_on_faces(latitude, day, front)
    start = pd.Timestamp("2023-01-01", tz="UTC") + pd.Timedelta(days=day - 1)
    minutes = pd.date_range(start, periods=24 * 12, freq="5min") + pd.Timedelta(seconds=150)
    equation = solarposition.equation_of_time_spencer71(day)
    place = solarposition.get_solarposition(minutes, latitude, -equation / 4.0)
    ghi = clearsky.haurwitz(place["zenith"])["ghi"]
    split = irradiance.erbs(ghi, place["zenith"], minutes)
    worst = 0.0
    for face, (tilt, aside) in {
        "top": (0, 0),
        "front": (90, 0),
        "left": (90, 90),
        "back": (90, 180),
        "right": (90, 270),
    }.items():
        total = irradiance.get_total_irradiance(
            tilt, (front + aside) % 360, place["zenith"], place["azimuth"], split["dni"], ghi, split["dhi"], albedo=0.2
        )["poa_global"]
        hourly = total.fillna(0.0).to_numpy().reshape(24, 12).mean(axis=1)
        worst = max(worst, float(np.abs(hourly - ours[face]).max()))
    outside(
        source="pvlib",
        place="get_total_irradiance",
        read="program",
        what="sun on five faces by hour, share of 1000 W/m²",
        deviation=worst / 1000.0,
    )
    assert worst < 25.0
