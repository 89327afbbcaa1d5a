"""A cabinet through the years of the site's weather: hours above limits, hours and energy of the fan, air that passed.

Needs numpy and numba (extra `season`).
"""

import numpy as np

from ...evidence.cabinets import AIR_KG_PER_M3, CabinetView
from ...heat.around import Around
from ...heat.model import year
from ...network.cabinet.weather_days import faces_of
from ...season.zone import zone_air_c
from ...site.model import Site
from ...site.record import record
from ...sun.hours import HOURS_A_YEAR, Hours
from ...sun.weather import read_hours

MOST_YEARS = 5


@record(frozen=True)
class Years:
    """What a cabinet meets in a mean year. `above_h`: part -> hours in which the air there passes its limit."""

    n_year: int
    hottest_c: float
    coldest_c: float
    above_h: dict[str, float]
    fan_h: float
    fan_wh: float
    air_m3: float
    ageing_ratio: float  # how much faster electrolytic capacitors age in it than in the air around, by the 10-K rule


def years_of(site: Site, view: CabinetView) -> Years:
    """The years of the site's weather. Raises SiteError when they cannot be read, ImportError without numpy."""
    hours = _some(read_hours(site))
    around = around_hours(site, view, hours)
    heat = {name: watts * (hours.n_hour // 24) for name, watts in view.climate.hot.heat_w.items()}
    trace = year(view.climate.box, around, heat)
    middle = np.asarray(trace.air_c(view.climate.box.height_m / 2))
    n_year = hours.n_hour / HOURS_A_YEAR
    return Years(
        int(n_year),
        float(np.max(trace.upper_high_c)),
        float(np.min(trace.lower_low_c)),
        {limit.name: trace.hours_above(limit.limit_c, limit.height_m) / n_year for limit in view.limits},
        float(np.sum(trace.fan_fraction)) / n_year,
        float(np.sum(trace.fan_w)) / n_year,
        float(np.sum(trace.air_kg_per_s)) * 3600.0 / AIR_KG_PER_M3 / n_year,
        float(np.mean(2.0 ** (middle / 10.0)) / np.mean(2.0 ** (np.asarray(around.air_c) / 10.0))),
    )


def _some(hours: Hours) -> Hours:
    """The first years, no more than tell enough."""
    n_hour = min(hours.n_year, MOST_YEARS) * HOURS_A_YEAR
    wind = None if hours.wind_m_per_s is None else hours.wind_m_per_s[:n_hour]
    return Hours(hours.start_utc_s[:n_hour], hours.ghi_w_per_m2[:n_hour], hours.dni_w_per_m2[:n_hour],
                 hours.dhi_w_per_m2[:n_hour], hours.air_c[:n_hour], wind, hours.year[:n_hour], hours.latitude,
                 hours.longitude, hours.elevation_m, hours.timezone, hours.notes)  # fmt: skip


def around_hours(site: Site, view: CabinetView, hours: Hours) -> Around:
    """The surroundings of a cabinet through hours of weather: its zone swings as the weather does."""
    cabinet = view.climate.cabinet
    air = zone_air_c(site, site.zones[view.name].inside, hours)[0].tolist()
    if cabinet.stands != "outdoors":
        return Around(air, elevation_m=site.about.elevation_m)
    return Around(air, sun_w_per_m2=faces_of(cabinet, hours), elevation_m=site.about.elevation_m)
