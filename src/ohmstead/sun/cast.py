"""Shadows of near obstacles as machine code: the tests of `scene`, point by point, for the many facings of a sweep."""

from math import sqrt

import numpy as np
from numba import njit

from .field import Field
from .hours import FloatArray, IntArray
from .scene import Body, may_meet

TREE, POLE, BOX = range(3)
TINY = 1e-12  # a ray that runs along a face is taken as one that leans a little
SHAPES = {"tree": TREE, "pole": POLE, "box": BOX}


def passing(field: Field, bodies: list[Body], ray: FloatArray, month: IntArray) -> tuple[IntArray, FloatArray] | None:
    """Rows in which a body may throw shade, and the share of light on each block then; as `shade` finds it."""
    if not bodies:
        return None
    may = np.stack([may_meet(body, field.radius_m, ray) for body in bodies])
    rows = np.flatnonzero(may.any(axis=0)).astype(np.int64)
    if not rows.size:
        return None
    points = field.points.reshape(-1, 3)
    own = [_own(body, points - body.middle, ray[rows]) for body in bodies]
    starts = np.ascontiguousarray([start for start, _ in own])
    rays = np.ascontiguousarray([towards for _, towards in own])
    shape = np.array([SHAPES[body.shape] for body in bodies])
    light = np.array([body.light_fraction for body in bodies])[:, month[rows]]
    lost = np.where(may[:, rows], 1.0 - light, 0.0)
    half = np.array([body.half for body in bodies])
    share = np.empty((rows.size, field.points.shape[0]))
    _cast(starts, rays, shape, half, np.ascontiguousarray(lost), share)
    return rows, share


def _own(body: Body, away: FloatArray, ray: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Starts (4, n_point) and rays (4, n_ray) as the body sees them; the fourth row is what its test needs of them."""
    if body.shape == "box":
        turned = np.radians(body.turned_deg)
        frame = np.array([[np.sin(turned), np.cos(turned), 0], [np.cos(turned), -np.sin(turned), 0], [0, 0, 1]])
        return np.vstack([frame @ away.T, np.zeros(len(away))]), np.vstack([frame @ ray.T, np.zeros(len(ray))])
    if body.shape == "pole":
        inside = away[:, 0] ** 2 + away[:, 1] ** 2 - body.half[0] ** 2
        flat = np.maximum(ray[:, 0] ** 2 + ray[:, 1] ** 2, TINY)
        return np.vstack([away.T, inside]), np.vstack([ray.T, flat])
    start, towards = away / body.half, ray / body.half
    outside = (start * start).sum(axis=1) - 1.0
    return np.vstack([start.T, outside]), np.vstack([towards.T, (towards * towards).sum(axis=1)])


@njit("UniTuple(float64, 2)(float64, float64, float64)", cache=True, nogil=True, inline="always")
def _between(start: float, ray: float, half: float) -> tuple[float, float]:
    """From when until when a ray is between -half and half on one axis."""
    pace = 1.0 / (ray if abs(ray) >= TINY else TINY)
    return -start * pace - half * abs(pace), -start * pace + half * abs(pace)


@njit("void(float64[:,:,::1], float64[:,:,::1], int64[::1], float64[:,::1], float64[:,::1], float64[:,::1])",
      cache=True, nogil=True, error_model="numpy")  # fmt: skip
def _cast(starts: FloatArray, rays: FloatArray, shape: IntArray, half: FloatArray, lost: FloatArray,
          share: FloatArray) -> None:  # fmt: skip
    n_body, _, n_all = starts.shape
    n_block = share.shape[1]
    n_point = n_all // n_block
    through = np.empty(n_all)
    for row in range(rays.shape[2]):
        through[:] = 1.0
        for body in range(n_body):
            dark = 1.0 - lost[body, row]
            if dark == 1.0:
                continue
            start = starts[body]
            east, north, up, own = rays[body, 0, row], rays[body, 1, row], rays[body, 2, row], rays[body, 3, row]
            if shape[body] == TREE:
                for i in range(n_all):
                    along = start[0, i] * east + start[1, i] * north + start[2, i] * up
                    outside = start[3, i]
                    hit = along * along >= own * outside and (along < 0.0 or outside < 0.0)
                    through[i] *= dark if hit else 1.0
            elif shape[body] == POLE:
                for i in range(n_all):
                    behind = start[0, i] * east + start[1, i] * north
                    root = behind * behind - own * start[3, i]
                    if root >= 0.0 and (behind < 0.0 or start[3, i] < 0.0):
                        low, high = _between(start[2, i], up, half[body, 2])
                        width = sqrt(root)
                        if max((-behind - width) / own, low, 0.0) <= min((-behind + width) / own, high):
                            through[i] *= dark
            else:
                for i in range(n_all):
                    low, high = _between(start[0, i], east, half[body, 0])
                    first, last = _between(start[1, i], north, half[body, 1])
                    low, high = max(low, first, 0.0), min(high, last)
                    first, last = _between(start[2, i], up, half[body, 2])
                    through[i] *= dark if max(low, first) <= min(high, last) else 1.0
        for block in range(n_block):
            total = 0.0
            for i in range(block * n_point, (block + 1) * n_point):
                total += through[i]
            share[row, block] = total / n_point
