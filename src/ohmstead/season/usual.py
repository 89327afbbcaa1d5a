"""The usual arithmetic of sizing for a site: its load, and the sun hours of its worst month."""

from dataclasses import dataclass

import numpy as np

from ..sun.module import by_month
from ..sun.plane import plane
from ..sun.sky import sun_path
from . import thumb
from .scene import Scene
from .tilt import Tilts, by_month_wh, fewer
from .year import MONTHS


@dataclass(frozen=True, slots=True)
class Usual:
    """What the usual arithmetic says, and from what. sun_h: kWh/m² a day in the plane, in the worst month."""

    month: str
    tilt_deg: float
    load_wh_a_day: float
    sun_h: float
    autonomy_days: float
    depth_fraction: float
    battery_wh: float
    array_w: float


def usual_of(scene: Scene, tilts: Tilts | None) -> Usual:
    """Battery and array by days of autonomy and the worst month, at the tilt that is best for it, or as they face.

    Shade is not in the sun hours. Without sun on the level (a series of the panels' own) the month's harvest stands
    for the sun: as many hours at rated power, derating left out.
    """
    load = float(np.mean(scene.drive.load_w[1])) * 24.0
    depth = thumb.DEPTH.get(scene.bank.chemistry, 0.5)
    battery = thumb.battery_wh(load, thumb.AUTONOMY_DAYS, depth, thumb.GIVEN)
    few = fewer(scene)
    asked = by_month_wh(few, few.drive.load_w[1])
    if tilts is None:
        hours = by_month_wh(few, few.as_is.total_w()) / scene.rated_w / thumb.DERATED
        tilt = scene.facing[0]
    else:
        tilt = float(tilts.tilts_deg[tilts.best])
        ground = by_month(scene.site.arrays[scene.turned].albedo_fraction, np.zeros(few.hours.n_hour, dtype=np.int64))
        light = plane(few.hours, sun_path(few.hours), (tilt, tilts.azimuth_deg), ground).total_w_per_m2
        hours = by_month_wh(few, light) / 1000.0
    worst = int((hours / np.maximum(asked, 1e-9)).argmin())
    sun_h = float(max(hours[worst], 1e-3))
    size = thumb.array_w(float(asked[worst]), sun_h, thumb.DERATED, thumb.PASSED, thumb.MARGIN)
    return Usual(MONTHS[worst], tilt, load, sun_h, thumb.AUTONOMY_DAYS, depth, battery, size)
