"""Near obstacles as bodies in space, and whether a ray towards the sky meets them.

Starts are in metres east, north and up from the middle of the array, rays are unit vectors and never end; a body
behind the start of a ray is not met.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..site.sky import Obstacle
from .hours import FloatArray

BoolArray = NDArray[np.bool_]
GROUND_M = -1000.0  # where a body begins that stands on the ground, far below any panel
_TINY = 1e-12


@dataclass(frozen=True, slots=True)
class Body:
    """One obstacle in space. light: share that passes, for each month January first, shape (12,)."""

    name: str
    shape: str
    middle: FloatArray
    half: FloatArray  # half width, half depth, half height
    turned_deg: float
    light_fraction: FloatArray


def bodies_of(obstacles: list[Obstacle], latitude: float) -> list[Body]:
    """The obstacles of a site file as bodies."""
    return [body_of(obstacle, latitude) for obstacle in obstacles]


def body_of(obstacle: Obstacle, latitude: float) -> Body:
    """One obstacle as a body; a crown whose begin is not stated is as high as wide."""
    width, top = obstacle.width_m, obstacle.top_m
    bottom = obstacle.bottom_m
    if bottom is None:
        bottom = top - width if obstacle.shape == "tree" else GROUND_M
    depth = obstacle.depth_m if obstacle.shape == "box" and obstacle.depth_m is not None else width
    middle = np.array([obstacle.east_m, obstacle.north_m, (top + bottom) / 2])
    half = np.array([width / 2, depth / 2, (top - bottom) / 2])
    return Body(obstacle.name, obstacle.shape, middle, half, obstacle.turned_deg, _light(obstacle, latitude))


def _light(obstacle: Obstacle, latitude: float) -> FloatArray:
    if obstacle.shape != "tree":
        return np.zeros(12)
    leafy = obstacle.leafy_months or ((5, 6, 7, 8, 9, 10) if latitude >= 0 else (11, 12, 1, 2, 3, 4))
    return np.array([obstacle.summer_fraction if m in leafy else obstacle.winter_fraction for m in range(1, 13)])


def meets(body: Body, start: FloatArray, ray: FloatArray) -> BoolArray:
    """Does each ray (n_ray, 3), begun at each start (n_start, 3), meet a body? Shape (n_ray, n_start)."""
    away = start - body.middle
    if body.shape == "box":
        return _meets_box(body, away, ray)
    if body.shape == "pole":
        return _meets_pole(body, away, ray)
    return _meets_crown(body, away, ray)


def _meets_crown(body: Body, away: FloatArray, ray: FloatArray) -> BoolArray:
    """An ellipsoid: squeezed to a unit ball, where the nearest point of the ray decides."""
    o, d = away / body.half, ray / body.half
    outside = (o * o).sum(axis=-1) - 1.0
    along = d @ o.T
    crosses = along * along >= (d * d).sum(axis=-1)[:, None] * outside
    found: BoolArray = crosses & ((along < 0.0) | (outside < 0.0))
    return found


def _meets_pole(body: Body, away: FloatArray, ray: FloatArray) -> BoolArray:
    """An upright cylinder: while the ray is inside its circle, it must be between bottom and top.

    Few rays cross the circle at all; only these are looked at further.
    """
    a = np.maximum(ray[:, 0] ** 2 + ray[:, 1] ** 2, _TINY)
    b = ray[:, :2] @ away[:, :2].T
    c = away[:, 0] ** 2 + away[:, 1] ** 2 - body.half[0] ** 2
    root = b * b - a[:, None] * c
    found: BoolArray = (root >= 0.0) & ((b < 0.0) | (c < 0.0))
    rows, columns = np.nonzero(found)
    width, behind, flat = np.sqrt(root[rows, columns]), b[rows, columns], a[rows]
    low, high = _between(away[columns, 2], ray[rows, 2], float(body.half[2]))
    enter = np.maximum(np.maximum((-behind - width) / flat, low), 0.0)
    found[rows, columns] = enter <= np.minimum((-behind + width) / flat, high)
    return found


def _meets_box(body: Body, away: FloatArray, ray: FloatArray) -> BoolArray:
    """A box: the ray must be between all three pairs of its faces at once."""
    turned = np.radians(body.turned_deg)
    width = np.array([np.sin(turned), np.cos(turned), 0.0])
    depth = np.array([np.cos(turned), -np.sin(turned), 0.0])
    first, last = np.zeros(1), np.full(1, np.inf)
    for axis, half in zip((width, depth, np.array([0.0, 0.0, 1.0])), body.half, strict=True):
        low, high = _between((away @ axis)[None, :], (ray @ axis)[:, None], float(half))
        first, last = np.maximum(first, low), np.minimum(last, high)
    found: BoolArray = first <= last
    return found


def _between(start: FloatArray, ray: FloatArray, half: float) -> tuple[FloatArray, FloatArray]:
    """From when until when a ray is between -half and half on one axis."""
    pace = 1.0 / np.where(np.abs(ray) < _TINY, _TINY, ray)
    middle, spread = -start * pace, half * np.abs(pace)
    return middle - spread, middle + spread


def may_meet(body: Body, radius_m: float, ray: FloatArray) -> BoolArray:
    """Could a ray from anywhere within a ball around the middle of the array meet a body? Never wrongly no.

    Parameters
    ----------
    body : Body
        The obstacle.
    radius_m : float
        Of the ball that holds the array. [m]
    ray : array, shape (n_ray, 3)
        Unit vectors east, north and up.

    Returns
    -------
    array, shape (n_ray,)
        False only where no such ray meets it.

    Source
    ------
    Geometry.

    Examples
    --------
    >>> pole = body_of(Obstacle(name="p", shape="pole", north_m=10.0, top_m=3.0, width_m=0.1), 50.0)
    >>> may_meet(pole, 1.0, np.array([[0.0, 0.98, 0.2], [0.0, 0.6, 0.8], [0.0, -0.98, 0.2]])).tolist()
    [True, False, False]
    """
    flat = np.hypot(ray[..., 0], ray[..., 1])
    away = float(np.hypot(body.middle[0], body.middle[1]))
    reach = float(np.hypot(body.half[0], body.half[1])) + radius_m
    aside = np.abs(ray[..., 0] * body.middle[1] - ray[..., 1] * body.middle[0])
    ahead = ray[..., 0] * body.middle[0] + ray[..., 1] * body.middle[1]
    top = float(body.middle[2] + body.half[2]) + radius_m  # above the lowest point of the array
    low_enough = ray[..., 2] * max(0.0, away - reach) <= max(0.0, top) * flat
    bottom = float(body.middle[2] - body.half[2]) - radius_m  # above the highest point
    low_enough &= ray[..., 2] * (away + reach) >= bottom * flat
    found: BoolArray = (top >= 0.0) & (aside <= reach * flat) & (ahead >= -reach * flat) & low_enough
    return found | ((away <= reach) & (top >= 0.0))
