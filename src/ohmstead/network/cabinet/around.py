"""What surrounds a cabinet on its hottest and on its coldest day."""

from ...heat.around import Around
from ...heat.damp import dew_point_c
from ...heat.roof import day_air_c, from_points_c, peak_rise_k, under_roof_c
from ...heat.sunlit import day_on_faces
from ...site.boxes import Cabinet
from ...site.model import Site
from ...site.problems import Problem, SiteError
from .figures import CLEAR_SKY_W_PER_M2, table_roof

MIDSUMMER, MIDWINTER = 172, 355  # days of the year, in the north


def around_of(site: Site, zone: str, day: str) -> Around:
    """The surroundings of the box of a zone by hour, of the "hot" or the "cold" day."""
    cabinet, elevation_m = site.cabinets[zone], site.about.elevation_m
    if cabinet.days == "weather":
        return _weather_day(site, zone, day)
    air = air_around(site, zone, day)
    dew = None
    if cabinet.humidity_fraction is not None:
        dew = (dew_point_c(min(air), cabinet.humidity_fraction),) * len(air)
    if cabinet.stands != "outdoors":
        return Around(air, dew_point_c=dew, elevation_m=elevation_m)
    if day == "cold":
        sky = (CLEAR_SKY_W_PER_M2,) * len(air)
        return Around(air, sky_w_per_m2=sky, dew_point_c=dew, elevation_m=elevation_m)
    return Around(air, sun_w_per_m2=summer_sun(site, cabinet), dew_point_c=dew, elevation_m=elevation_m)


def _weather_day(site: Site, zone: str, day: str) -> Around:
    try:
        from .weather_days import weather_day
    except ImportError as missing:
        what = f"cabinet '{zone}' takes its days from the weather, which needs {missing.name}"
        mend = "pip install 'ohmstead[season]', or leave days out"
        raise SiteError([Problem(site.cabinets[zone].place, what, "days: zone", mend)], site.text) from None
    return weather_day(site, zone, day)


def summer_sun(site: Site, cabinet: Cabinet) -> dict[str, tuple[float, ...]]:
    """Sun on the faces of a box on a clear day of midsummer, by hour, before shade. [W/m²]"""
    latitude = site.about.latitude or 0.0
    return dict(day_on_faces(latitude, MIDSUMMER if latitude >= 0 else MIDWINTER, cabinet.faces_deg))


def air_around(site: Site, zone: str, day: str) -> tuple[float, ...]:
    """Air around the box by hour: it touches the hottest (or coldest) air of the zone around it. [°C]

    In a roof space of which the covering is stated, or which was measured, the zone around is outdoors, and the air
    under the roof follows it and the sun.
    """
    cabinet = site.cabinets[zone]
    span = site.air_of(site.zones[zone].inside)
    swing = min(cabinet.swing_k, span.high - span.low)
    air = day_air_c(span.high - swing, span.high) if day == "hot" else day_air_c(span.low, span.low + swing)
    if cabinet.roof_points:
        return from_points_c(air, cabinet.roof_points)
    if cabinet.roof and day == "hot":
        return under_roof_c(air, summer_sun(site, cabinet)["top"], peak_rise_k(table_roof(cabinet.roof)))
    return air
