"""Many facings of one array over the same hours: tilt and azimuth vary, all that the site says of it stays.

Shadows are cast anew for every facing, from the points of the turned field; its middle stays where it is.
"""

from dataclasses import dataclass, replace

import numpy as np

from ..site.model import Site
from ..site.sky import Array
from . import lit
from .cast import passing
from .field import field_of
from .harvest import month_of
from .horizon import skyline_of
from .hours import HOURS_A_YEAR, FloatArray, Hours, IntArray
from .module import CALM_M_PER_S, MOUNTINGS, by_month, cable_loss_fraction
from .plane import grey_angles_deg, through_glass
from .scene import Body, bodies_of
from .shade import shade_on
from .sky import SunPath, rays, sun_path

Facing = tuple[float, float]  # tilt and azimuth in degrees


@dataclass(frozen=True, slots=True)
class Outlook:
    """What every facing of one array shares. weather: (9, n_hour); path and month: the first year."""

    array: Array
    weather: FloatArray
    path: SunPath
    month: IntArray
    bodies: tuple[Body, ...]
    skyline: FloatArray | None


def outlook_of(site: Site, name: str, hours: Hours) -> Outlook:
    """The place of one array of a site, in some hours of weather."""
    path = sun_path(hours)
    towards = rays(path, np.arange(hours.n_hour), 0.0)
    wind = np.full(hours.n_hour, CALM_M_PER_S) if hours.wind_m_per_s is None else hours.wind_m_per_s
    weather = np.stack(
        [hours.ghi_w_per_m2, hours.dni_w_per_m2, hours.dhi_w_per_m2, hours.air_c, wind, path.extra_w_per_m2, *towards.T]
    )
    mine = [one for one in site.obstacles.values() if one.shades in ("", name)]
    first = min(hours.n_hour, HOURS_A_YEAR)
    bodies = tuple(bodies_of(mine, hours.latitude))
    return Outlook(site.arrays[name], weather, _begin(path, first), month_of(hours)[:first], bodies, skyline_of(site))


def _begin(path: SunPath, n_hour: int) -> SunPath:
    return SunPath(path.zenith_deg[:n_hour], path.azimuth_deg[:n_hour], path.extra_w_per_m2[:n_hour],
                   path.declination_deg[:n_hour], path.hour_angle_deg[:n_hour], path.latitude)  # fmt: skip


def plane_w(outlook: Outlook, facing: Facing) -> FloatArray:
    """Power of the array at its controller's terminals, were it to face another way.

    Parameters
    ----------
    outlook : Outlook
        Where it stands.
    facing : tuple of float
        Tilt and azimuth. [°]

    Returns
    -------
    array, shape (n_hour,)
        What reaches the controller; as `harvest_w` gives it for an array of that facing. [W]

    Source
    ------
    As `harvest_w`.

    Examples
    --------
    >>> from ..site.read import read_text
    >>> site = read_text("ohmstead: 1\\narrays: {roof: {module power: 100 W, tilt: 60°, azimuth: 180°}}")
    >>> grey, none = np.full(24, 500.0), np.zeros(24)
    >>> day = Hours(np.arange(24) * 3600, grey, none, grey, none, None, np.full(24, 1970), 50.0, 0.0, 0.0, "UTC")
    >>> plane_w(outlook_of(site, "roof", day), (0.0, 180.0))[:2].round(1).tolist()
    [46.6, 46.6]
    """
    array = replace(outlook.array, tilt_deg=facing[0], azimuth_deg=facing[1])
    field = field_of(array)
    path, month = outlook.path, outlook.month
    shade = shade_on(field, list(outlook.bodies), outlook.skyline, path, month, cast=passing)
    row = np.full(outlook.month.size, -1, dtype=np.int64)
    row[shade.touched] = np.arange(shade.touched.size)
    string = np.argsort(field.string, kind="stable").reshape(field.n_string, -1)
    out = np.empty(outlook.weather.shape[1])
    ground = by_month(array.albedo_fraction, month)
    yearly = np.stack([shade.open_sky_fraction[month], _clean(array, month), ground, shade.clear_fraction])
    light = np.ascontiguousarray(shade.light_fraction)
    if not shade.touched.size:
        light = np.zeros((0, 1, string.size))
    shared = _shared(array, field.normal, field.has_diodes)
    lit.power(outlook.weather, shared, yearly, row, light, string, out)
    return out


def _clean(array: Array, month: IntArray) -> FloatArray:
    """Share of light that dirt and snow let through."""
    clean: FloatArray = (1.0 - by_month(array.soiling_fraction, month)) * (1.0 - by_month(array.snow_fraction, month))
    return clean


def _shared(array: Array, normal: FloatArray, has_diodes: str) -> FloatArray:
    """The numbers that hold in every hour, in the order of `lit`."""
    grey, low = (float(through_glass(np.cos(np.radians([angle])))[0]) for angle in grey_angles_deg(array.tilt_deg))
    rated_w = array.power_w * array.series * array.parallel
    made_w = rated_w * (1.0 - array.mismatch_fraction)
    cable = cable_loss_fraction(array) / rated_w if rated_w > 0.0 else 0.0
    diodes = 1.0 if has_diodes == "yes" else 0.0
    return np.array([*normal, grey, low, made_w, array.power_per_k, cable, *MOUNTINGS[array.mounting], diodes])
