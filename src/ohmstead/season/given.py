"""A harvest from a series that the weather file gives: the sun in the plane of the panels, or the harvest itself."""

import numpy as np

from ..site.model import Site
from ..site.sky import Array
from ..sun.harvest import Harvest, month_of
from ..sun.hours import FloatArray, Given
from ..sun.module import CALM_M_PER_S, after_cable_w, best_w, by_month, cable_loss_fraction, cell_c
from .trouble import refuse

HELD_NOTE = "a switching controller is taken as one that holds the best point: the series tells no current"


def harvest_of(site: Site, given: Given) -> Harvest:
    """What the arrays give by a measured series; shade is in the series already. Raises SeasonError."""
    strange = sorted(set(given.by_array) - set(site.arrays) - {""})
    if strange:
        refuse(
            site,
            f"the weather file has a series for {', '.join(strange)}, which the site does not have",
            f"series for {', '.join(site.arrays)}, or one for all",
            "write `plane of NAME` or `harvest of NAME` with a name of the section arrays",
        )
    held = [p.name for p in site.parts.values() if getattr(p, "type", "") == "switching"]
    notes = (*given.notes, *((HELD_NOTE,) if held else ()))
    whole = given.by_array.get("")
    made: dict[str, FloatArray] = {}
    for number, (name, array) in enumerate(site.arrays.items()):
        series = given.by_array.get(name)
        if given.kind == "plane":
            light = whole if series is None else series
            made[name] = _array_w(array, given, np.zeros(given.hours.n_hour) if light is None else light)
        elif series is not None:
            made[name] = series
        else:  # one series for all arrays goes to the first
            made[name] = whole if whole is not None and number == 0 else np.zeros(given.hours.n_hour)
    return Harvest(made, made, {}, {}, notes)


def _array_w(array: Array, given: Given, light: FloatArray) -> FloatArray:
    """Power of one array in so much light on its plane, at its controller's terminals. [W]"""
    hours = given.hours
    month = month_of(hours)
    clean = (1.0 - by_month(array.soiling_fraction, month)) * (1.0 - by_month(array.snow_fraction, month))
    wind = CALM_M_PER_S if hours.wind_m_per_s is None else hours.wind_m_per_s
    cells = cell_c(light * clean, hours.air_c, wind, array.mounting)
    rated_w = array.power_w * array.series * array.parallel
    power = best_w(light * clean, cells, rated_w * (1.0 - array.mismatch_fraction), array.power_per_k)
    return after_cable_w(power, cable_loss_fraction(array), rated_w)
