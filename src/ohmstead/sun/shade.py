"""What shades a field in every hour: the skyline, and the shadows of near obstacles on each block of its modules."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from .dome import open_sky
from .field import Field
from .horizon import skyline_deg
from .hours import HOURS_A_YEAR, FloatArray, IntArray
from .plane import cos_incidence
from .scene import Body, may_meet, meets
from .sky import SunPath, rays

MOMENTS_DEG = (-5.625, -1.875, 1.875, 5.625)  # the sky turns 15° an hour: four moments, each in the middle of a quarter
_NEAR_DEG = 8.0  # the sun rises and sets by 7.5° in half an hour at most
_AT_ONCE = 2_000_000  # rays traced in one go, for the sake of memory

Cast = Callable[[Field, list[Body], FloatArray, IntArray], tuple[IntArray, FloatArray] | None]


@dataclass(frozen=True, slots=True)
class Shade:
    """Shade on one field.

    clear: (n_hour,), 1 where the beam arrives and 0 where it does not; the hours of `touched` apart.
    touched: hours in which the beam is shaded in part or for a part of the hour, shape (n_touched,).
    light: share of the beam on each block in these hours, shape (n_touched, n_moment, n_block).
    open_sky: share of the grey sky that is left, for each month, shape (12,).
    """

    clear_fraction: FloatArray
    touched: IntArray
    light_fraction: FloatArray
    open_sky_fraction: FloatArray


def no_shade(path: SunPath) -> Shade:
    """An open place: the beam arrives whenever the sun is up."""
    up = np.ones_like(path.zenith_deg)
    return Shade(up, np.zeros(0, dtype=np.int64), np.zeros((0, len(MOMENTS_DEG), 1)), np.ones(12))


def shade_on(
    field: Field,
    bodies: list[Body],
    skyline: FloatArray | None,
    path: SunPath,
    month: IntArray,
    cast: Cast | None = None,
) -> Shade:
    """Shade on a field; `month` (0 for January) of every hour tells what leaves the trees bear.

    `cast` finds the shadows of near obstacles; left out, numpy does (`cast.passing` is the same, compiled).

    Shadows are cast in the first year and repeated: from year to year the sun of an hour moves by a quarter of its
    daily step, less than 0.1° near the solstices and never more than 0.4°.
    """
    if not bodies and skyline is None:
        return no_shade(path)
    n_hour = path.zenith_deg.size
    above = path.elevation_deg - skyline_deg(skyline, path.azimuth_deg)
    clear = (above > 0.0).astype(np.float64)
    first = slice(0, min(n_hour, HOURS_A_YEAR))
    hours = _touched(field, bodies, above[first] if skyline is not None else None, path)
    light = _light(field, bodies, skyline, path, (hours, month), cast or _passing)
    n_year = n_hour // HOURS_A_YEAR
    if n_year > 1:
        hours = np.concatenate([hours + year * HOURS_A_YEAR for year in range(n_year)])
        light = np.tile(light, (n_year, 1, 1))
    return Shade(clear, hours, light, open_sky(field, bodies, skyline))


def _touched(field: Field, bodies: list[Body], above: FloatArray | None, path: SunPath) -> IntArray:
    """Hours of the first year in which the skyline or a body may cut the beam for a part of the hour."""
    first = slice(0, HOURS_A_YEAR)
    day = path.elevation_deg[first] > -1.0
    touched = np.zeros_like(day) if above is None else day & (np.abs(above) < _NEAR_DEG)
    lit = np.flatnonzero(day & (path_incidence(field, path)[first] > 0.0))
    turned = [rays(path, lit, later) for later in MOMENTS_DEG]
    for body in bodies:
        hit = np.zeros(lit.size, dtype=np.bool_)
        for ray in turned:
            hit |= may_meet(body, field.radius_m, ray)
        touched[lit[hit]] = True
    return np.flatnonzero(touched).astype(np.int64)


def path_incidence(field: Field, path: SunPath) -> FloatArray:
    """Cosine of the angle between the sun and straight out of a field, below zero behind it."""
    return cos_incidence(path.zenith_deg, path.azimuth_deg, field.tilt_deg, field.azimuth_deg)


def _light(
    field: Field,
    bodies: list[Body],
    skyline: FloatArray | None,
    path: SunPath,
    when: tuple[IntArray, IntArray],
    cast: Cast,
) -> FloatArray:
    hours, month = when
    n_block, n_point, _ = field.points.shape
    light = np.ones((hours.size, len(MOMENTS_DEG), n_block))
    for index, later in enumerate(MOMENTS_DEG):
        ray = rays(path, hours, later)
        if skyline is not None:
            azimuth = np.degrees(np.arctan2(ray[:, 0], ray[:, 1])) % 360.0
            over = np.degrees(np.arcsin(np.clip(ray[:, 2], -1.0, 1.0))) > skyline_deg(skyline, azimuth)
            light[:, index] *= over[:, None]
        passes = cast(field, bodies, ray, month[hours])
        if passes is not None:
            rows, share = passes
            light[rows, index] *= share
    return light


def _passing(field: Field, bodies: list[Body], ray: FloatArray, month: IntArray) -> tuple[IntArray, FloatArray] | None:
    """Rows in which a body may throw shade, and the share of light on each block then."""
    may = np.stack([may_meet(body, field.radius_m, ray) for body in bodies]) if bodies else np.zeros((0, len(ray)))
    rows = np.flatnonzero(may.any(axis=0)).astype(np.int64)
    if not rows.size:
        return None
    n_block, n_point, _ = field.points.shape
    start = field.points.reshape(-1, 3)
    gather = np.repeat(np.eye(n_block, dtype=np.float32), n_point, axis=0) / n_point  # mean of each block's points
    step = max(1, _AT_ONCE // len(start))
    share = np.empty((rows.size, n_block))
    for begin in range(0, rows.size, step):
        part = rows[begin : begin + step]
        lonely = may[:, part].sum(axis=0) == 1
        through = np.ones((int((~lonely).sum()), len(start)), dtype=np.float32)
        alone = share[begin : begin + step]
        for number, body in enumerate(bodies):
            one = np.flatnonzero(may[number, part] & lonely)
            if one.size:
                lost = 1.0 - body.light_fraction[month[part[one]]]
                alone[one] = 1.0 - (meets(body, start, ray[part[one]]).astype(np.float32) @ gather) * lost[:, None]
            several = np.flatnonzero(may[number, part[~lonely]])
            if several.size:
                chosen = part[~lonely][several]
                lost = (1.0 - body.light_fraction[month[chosen]]).astype(np.float32)
                through[several] *= 1 - meets(body, start, ray[chosen]) * lost[:, None]
        alone[~lonely] = through @ gather
    return rows, share
