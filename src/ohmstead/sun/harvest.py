"""What the arrays of a site give in every hour, with and without what shades them."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from ..site.kinds import Charger
from ..site.model import Site
from ..site.sky import Array
from .field import Field, field_of
from .horizon import skyline_of
from .hours import FloatArray, Hours, IntArray
from .module import CALM_M_PER_S, STANDARD_C, after_cable_w, best_w, by_month, cable_loss_fraction, cell_c
from .plane import Plane, grey_angles_deg, plane, through_glass
from .scene import bodies_of
from .shade import Shade, no_shade, shade_on
from .sky import sun_path
from .strings import best_share, current_share


@dataclass(frozen=True, slots=True)
class Harvest:
    """DC power of each array at the terminals of its controller, before the controller's limits; shape (n_hour,).

    by_array: as it stands; unshaded: on an open place, the same otherwise. current: for arrays behind a switching
    controller, the current they give at the battery's voltage. shaded_light: mean light on each, W/m².
    """

    by_array_w: Mapping[str, FloatArray]
    unshaded_w: Mapping[str, FloatArray]
    by_array_a: Mapping[str, FloatArray]
    light_w_per_m2: Mapping[str, FloatArray]
    notes: tuple[str, ...] = ()

    def total_w(self) -> FloatArray:
        """All arrays together."""
        found: FloatArray = np.sum(list(self.by_array_w.values()), axis=0)
        return found


def feeds(site: Site) -> dict[str, tuple[str, ...]]:
    """Sun charger -> the arrays it takes its power from; a lone charger that names none takes all."""
    chargers = [part for part in site.parts.values() if isinstance(part, Charger) and part.supply == "sun"]
    named = {charger.name: charger.arrays for charger in chargers}
    if len(chargers) == 1 and not chargers[0].arrays:
        return {chargers[0].name: tuple(site.arrays)}
    return named


def month_of(hours: Hours) -> IntArray:
    """Month of every hour, 0 for January; each year of 8760 hours begins in January."""
    days = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    year = np.repeat(np.arange(12), days * 24)
    return np.resize(year, hours.n_hour).astype(np.int64)


def harvest_w(site: Site, hours: Hours) -> Harvest:
    """The harvest of every array of a site over some hours of weather.

    Parameters
    ----------
    site : Site
        With its arrays, obstacles and skyline.
    hours : Hours
        The weather.

    Returns
    -------
    Harvest
        By array, shape (n_hour,). [W]

    Source
    ------
    duffie-beckman, evans-1981 and sandia-2004-3535, as its parts say.

    Examples
    --------
    >>> from ..site.read import read_text
    >>> site = read_text("ohmstead: 1\\narrays: {roof: {module power: 100 W, tilt: 0°, azimuth: 180°}}")
    >>> grey, none = np.full(24, 500.0), np.zeros(24)
    >>> day = Hours(np.arange(24) * 3600, grey, none, grey, none, None, np.full(24, 1970), 50.0, 0.0, 0.0, "UTC")
    >>> harvest_w(site, day).by_array_w["roof"][:2].round(1).tolist()
    [46.6, 46.6]
    """
    path, month, skyline = sun_path(hours), month_of(hours), skyline_of(site)
    held = {name: charger for charger, names in feeds(site).items() for name in names
            if getattr(site.parts[charger], "type", "") == "switching"}  # fmt: skip
    shaded: dict[str, FloatArray] = {}
    bare: dict[str, FloatArray] = {}
    current: dict[str, FloatArray] = {}
    light: dict[str, FloatArray] = {}
    for name, array in site.arrays.items():
        field = field_of(array)
        mine = [one for one in site.obstacles.values() if one.shades in ("", name)]
        shade = shade_on(field, bodies_of(mine, hours.latitude), skyline, path, month)
        sun = plane(hours, path, (array.tilt_deg, array.azimuth_deg), by_month(array.albedo_fraction, month))
        shaded[name], light[name] = at_controller(array, hours, sun, (field, shade))
        is_open = not shade.touched.size and bool((shade.open_sky_fraction == 1.0).all())
        bare[name] = shaded[name] if is_open else at_controller(array, hours, sun, (field, no_shade(path)))[0]
        if name in held:
            volts = _battery_v(site, held[name])
            current[name] = held_current(array, hours, sun, (field, shade), volts)
    return Harvest(shaded, bare, current, light, wind_notes(hours))


def wind_notes(hours: Hours) -> tuple[str, ...]:
    """What is said when the weather has no wind."""
    return () if hours.wind_m_per_s is not None else (f"wind taken as {CALM_M_PER_S:g} m/s at the modules",)


def _battery_v(site: Site, charger: str) -> float:
    """Usual voltage of the battery behind a switching controller: a little below where it ends its charge. [V]"""
    part = site.parts[charger]
    assert isinstance(part, Charger)
    return 0.93 * part.voltage_v  # 13.4 V of 14.4 V, 26.4 V of 28.4 V: lithium iron phosphate on its plateau


def at_controller(array: Array, hours: Hours, sun: Plane, stand: tuple[Field, Shade]) -> tuple[FloatArray, FloatArray]:
    """Power of one array at its controller's terminals [W], and the mean light on its cells [W/m²]."""
    light, share = lit(array, hours, sun, stand, None)
    cells = _cell_c(array, hours, light)
    rated_w = array.power_w * array.series * array.parallel
    power = best_w(light * share, cells, rated_w * (1.0 - array.mismatch_fraction), array.power_per_k)
    return after_cable_w(power, cable_loss_fraction(array), rated_w), light


def held_current(array: Array, hours: Hours, sun: Plane, stand: tuple[Field, Shade], volts: float) -> FloatArray:
    """Current of one array that a switching controller holds at the battery's voltage. [A]"""
    working_v = (array.mp_v or volts) * array.series
    working_a = array.mp_a or array.power_w / (working_v / array.series)
    open_v = (array.open_v * array.series) if array.open_v else 1.2 * working_v
    short = (array.short_a or 1.06 * working_a) / working_a
    light, share = lit(array, hours, sun, stand, volts / working_v)
    cells = _cell_c(array, hours, light)
    warm = 1.0 + array.voltage_per_k * (cells - STANDARD_C)
    knee, end = working_v * warm, open_v * warm
    below = 1.0 + (short - 1.0) * (1.0 - volts / np.maximum(knee, volts))
    beyond = np.clip((end - volts) / np.maximum(end - knee, 1e-9), 0.0, 1.0)
    held = np.where(volts <= knee, below, beyond)
    found: FloatArray = working_a * array.parallel * (1.0 - array.mismatch_fraction) * light * share / 1000.0 * held
    return found


def _cell_c(array: Array, hours: Hours, light: FloatArray) -> FloatArray:
    wind = CALM_M_PER_S if hours.wind_m_per_s is None else hours.wind_m_per_s
    return cell_c(light, hours.air_c, wind, array.mounting)


def lit(
    array: Array, hours: Hours, sun: Plane, stand: tuple[Field, Shade], voltage_share: float | None
) -> tuple[FloatArray, FloatArray]:
    """Mean light on the cells [W/m²] and the share of its power that the strings keep in uneven light."""
    field, shade = stand
    month = month_of(hours)
    sky_deg, ground_deg = grey_angles_deg(array.tilt_deg)
    grey, low = (float(through_glass(np.cos(np.radians([angle])))[0]) for angle in (sky_deg, ground_deg))
    beam = (sun.beam_w_per_m2 + sun.ring_w_per_m2) * through_glass(sun.cos_incidence)
    rest = sun.sky_w_per_m2 * shade.open_sky_fraction[month] * grey + sun.ground_w_per_m2 * low
    light = beam * shade.clear_fraction + rest
    share = np.ones_like(light)
    touched = shade.touched[beam[shade.touched] > 0.0] if shade.touched.size else shade.touched
    if touched.size:
        rows = shade.light_fraction[beam[shade.touched] > 0.0]
        block = beam[touched][:, None, None] * rows + rest[touched][:, None, None]
        mean = block.mean(axis=-1)
        worth = best_share(block, field) if voltage_share is None else current_share(block, field, voltage_share)
        light[touched] = mean.mean(axis=-1)
        share[touched] = worth.mean(axis=-1) / np.maximum(light[touched], 1e-9)
    clean = (1.0 - by_month(array.soiling_fraction, month)) * (1.0 - by_month(array.snow_fraction, month))
    return light * clean, share


def obstacle_costs(site: Site, hours: Hours) -> dict[str, FloatArray]:
    """What each obstacle costs: harvest without it less harvest as it is, a mean year, by month; shape (12,). [Wh]

    "horizon" stands for the far skyline. Two obstacles whose shadows overlap cost less together than added up: with
    one of them gone the other still shades.
    """
    as_it_is = harvest_w(site, hours).total_w()
    found = {}
    for name in site.obstacles:
        others = {key: one for key, one in site.obstacles.items() if key != name}
        found[name] = monthly_wh(harvest_w(replace(site, obstacles=others), hours).total_w() - as_it_is, hours)
    if site.horizon is not None:
        found["horizon"] = monthly_wh(harvest_w(replace(site, horizon=None), hours).total_w() - as_it_is, hours)
    return found


def monthly_wh(power_w: FloatArray, hours: Hours) -> FloatArray:
    """Energy of each month in a mean year, from power by the hour.

    Parameters
    ----------
    power_w : array, shape (n_hour,)
        Mean power of each hour. [W]
    hours : Hours
        The hours it belongs to.

    Returns
    -------
    array, shape (12,)
        January first. [Wh]

    Source
    ------
    A sum.

    Examples
    --------
    >>> none = np.zeros(8760)
    >>> year = Hours(np.arange(8760) * 3600, none, none, none, none, None, none.astype(int), 0.0, 0.0, 0.0, "UTC")
    >>> monthly_wh(none + 1.0, year)[:2].tolist()
    [744.0, 672.0]
    """
    sums = np.bincount(month_of(hours), weights=power_w, minlength=12)
    found: FloatArray = sums / max(1, hours.n_year)
    return found
