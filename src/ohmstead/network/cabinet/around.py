"""What surrounds a cabinet on its hottest and on its coldest day."""

from math import cos, pi

from ...heat.around import Around
from ...site.boxes import Cabinet
from ...site.model import Site

HOTTEST_H, COLDEST_H = 15, 5  # of the day, when air is hottest and coldest; common practice
N_HOUR = 24
CLEAR_SKY_W_PER_M2 = 68.0  # lost by a level black face to a clear sky: 4 K at 17 W/(m²·K), as ASHRAE, second-hand


def around_of(site: Site, zone: str, day: str) -> Around:
    """The surroundings of the box of a zone by hour, of the "hot" or the "cold" day."""
    cabinet = site.cabinets[zone]
    air = air_around(site, zone, day)
    elevation_m = site.about.elevation_m
    dew = dew_points(cabinet, min(air)) if cabinet.humidity_fraction is not None else None
    if cabinet.stands != "outdoors":
        return Around(air, dew_point_c=dew, elevation_m=elevation_m)
    sky = (CLEAR_SKY_W_PER_M2,) * N_HOUR if day == "cold" else None
    return Around(air, sky_w_per_m2=sky, dew_point_c=dew, elevation_m=elevation_m)


def air_around(site: Site, zone: str, day: str) -> tuple[float, ...]:
    """Air around the box by hour: a wave that touches the hottest (or coldest) air of the zone around it. [°C]"""
    cabinet = site.cabinets[zone]
    span = site.air_of(site.zones[zone].inside)
    swing = min(cabinet.swing_k, max(span.high - span.low, 0.0))
    if day == "hot":
        return tuple(span.high - swing * (1.0 - _wave(hour, HOTTEST_H)) / 2 for hour in range(N_HOUR))
    return tuple(span.low + swing * (1.0 - _wave(hour, COLDEST_H)) / 2 for hour in range(N_HOUR))


def _wave(hour: int, peak: int) -> float:
    return cos(2.0 * pi * (hour - peak) / N_HOUR)


def dew_points(cabinet: Cabinet, coldest_c: float) -> tuple[float, ...]:
    """Dew point of the air around, the same all day: that of its coldest hour. [°C]"""
    from ...heat.damp import dew_point_c

    return (dew_point_c(coldest_c, cabinet.humidity_fraction or 0.0),) * N_HOUR
