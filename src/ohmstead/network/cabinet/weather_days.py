"""The hottest and the coldest day of a site's weather, as a cabinet meets them.

Needs numpy (extra `season`); only loaded for a cabinet whose days come from the weather.
"""

import numpy as np

from ...heat.around import Around
from ...heat.damp import dew_point_c
from ...heat.roof import from_points_c, peak_rise_k, under_roof_c
from ...site.boxes import Cabinet
from ...site.model import Site
from ...site.sky import Weather
from ...sun.hours import FloatArray, Hours
from ...sun.plane import plane
from ...sun.sky import sun_path
from ...sun.weather import read_hours
from .figures import CLEAR_SKY_W_PER_M2, GROUND_FRACTION, table_roof

ASIDE_DEG = {"front": 0.0, "right": -90.0, "back": 180.0, "left": 90.0}  # of the faces, seen from above, from the door
MOST_KEPT = 4
SUN_K_PER_W_M2 = 0.03  # sol-air: absorptance 0.5 over 17 W/(m²·K); ashrae-fundamentals
_kept: dict[int, tuple[Weather | None, Hours]] = {}


def weather_day(site: Site, zone: str, day: str) -> Around:
    """The surroundings of the box of a zone on the hottest (or coldest) day of all years.

    The hottest is that of the hottest air, or, where the sun is on the box or on the roof above it, of air and sun
    together. Outdoors and under a roof the air is that of the weather; elsewhere the zone around the box swings between
    its stated ends as the weather does.
    """
    cabinet, hours = site.cabinets[zone], _hours(site)
    sunny = cabinet.stands == "outdoors" or bool(cabinet.roof)
    felt_c = hours.air_c + SUN_K_PER_W_M2 * hours.ghi_w_per_m2 if sunny else hours.air_c
    index = int((felt_c.argmax() if day == "hot" else hours.air_c.argmin()) // 24)
    cut = slice(24 * index, 24 * index + 24)
    air = _air(site, zone, hours, cut)
    dew = None
    if cabinet.humidity_fraction is not None:
        dew = (dew_point_c(min(air), cabinet.humidity_fraction),) * 24
    elevation_m = site.about.elevation_m
    if cabinet.stands != "outdoors":
        return Around(air, dew_point_c=dew, elevation_m=elevation_m)
    if day == "cold":
        return Around(air, sky_w_per_m2=(CLEAR_SKY_W_PER_M2,) * 24, dew_point_c=dew, elevation_m=elevation_m)
    sun = {face: tuple(on_face[cut].tolist()) for face, on_face in sun_on_faces(cabinet.faces_deg, hours).items()}
    return Around(air, sun_w_per_m2=sun, dew_point_c=dew, elevation_m=elevation_m)


def _hours(site: Site) -> Hours:
    """The hours of a site's weather, read once."""
    known = _kept.get(id(site.weather))
    if known is None or known[0] is not site.weather:
        if len(_kept) >= MOST_KEPT:
            _kept.pop(next(iter(_kept)))
        known = _kept[id(site.weather)] = (site.weather, read_hours(site))
    return known[1]


def _air(site: Site, zone: str, hours: Hours, cut: slice) -> tuple[float, ...]:
    cabinet = site.cabinets[zone]
    outdoor = tuple(hours.air_c[cut].tolist())
    if cabinet.roof_points:
        return from_points_c(outdoor, cabinet.roof_points)
    if cabinet.roof:
        return under_roof_c(outdoor, hours.ghi_w_per_m2[cut].tolist(), peak_rise_k(table_roof(cabinet.roof)))
    if cabinet.stands == "outdoors":
        return outdoor
    span = site.air_of(site.zones[zone].inside)
    low, high = float(hours.air_c.min()), float(hours.air_c.max())
    return tuple(span.low + (span.high - span.low) * (air - low) / max(high - low, 1e-6) for air in outdoor)


def sun_on_faces(door_deg: float, hours: Hours) -> dict[str, FloatArray]:
    """Sun on each face of a box whose door looks that way, before shade. [W/m²]"""
    path, ground = sun_path(hours), np.full(hours.n_hour, GROUND_FRACTION)
    found = {
        face: plane(hours, path, (90.0, (door_deg + turn) % 360.0), ground).total_w_per_m2
        for face, turn in ASIDE_DEG.items()
    }
    return found | {"top": hours.ghi_w_per_m2}


def faces_of(cabinet: Cabinet, hours: Hours) -> dict[str, list[float]]:
    """The same as plain lists."""
    return {face: on_face.tolist() for face, on_face in sun_on_faces(cabinet.faces_deg, hours).items()}
