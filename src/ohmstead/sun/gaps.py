"""Holes in weather: short ones are bridged, days are taken from the days around, more is refused."""

import numpy as np

from .hours import FloatArray, IntArray
from .raw import Raw, when
from .trouble import refuse
from .whole_years import LACKING_HOURS, Grid

BRIDGED_HOURS = 3  # common practice, no source: over so few hours clearness and air change little
MOST_HOLES = 0.05  # share of all hours; common practice, no source
_SUN = ("ghi", "dni", "dhi")
_SPOKEN = {"ghi": "sun", "dni": "beam", "dhi": "sky", "air": "air", "wind": "wind"}


def fill(raw: Raw, grid: Grid, high: FloatArray) -> tuple[dict[str, FloatArray], tuple[str, ...]]:
    """The columns without holes, and what was filled. `high` is the cosine of the zenith angle of each hour.

    Up to three hours: sun as the same share of a high sun as before and after, all else along a straight line.
    Up to three days: the same hours of the days before and after. Dark hours of the sun are nought.
    """
    filled, notes = {}, []
    for name, values in grid.columns.items():
        spoken = _SPOKEN.get(name, name)
        holes = np.isnan(values)
        if name not in ("air", "wind"):
            holes &= high > 0
            values = np.where(np.isnan(values) & ~holes, 0.0, values)
        if holes.all() or holes.mean() > MOST_HOLES:
            refuse(
                raw.file,
                0,
                f"{spoken} is missing in {holes.mean() * 100:.0f} % of the hours",
                f"at most {MOST_HOLES * 100:.0f} %",
                "fetch the file again, or take another source",
            )
        if holes.any():
            _check_longest(raw, grid, name, np.isnan(grid.columns[name]))
            weight = (
                np.maximum(high, 0.05)
                if name in _SUN or name.startswith(("plane", "harvest"))
                else np.ones_like(values)
            )
            values = _bridged(values / weight, holes) * weight
            notes.append(f"{spoken}: {int(holes.sum())} missing hours filled from the hours and days around")
        filled[name] = values
    return filled, tuple(notes)


def _stretches(holes: object) -> tuple[IntArray, IntArray]:
    """Begin and end of each stretch of holes."""
    flags = np.concatenate([[False], np.asarray(holes), [False]]).astype(np.int8)
    change = np.diff(flags)
    return np.flatnonzero(change == 1).astype(np.int64), np.flatnonzero(change == -1).astype(np.int64)


def _check_longest(raw: Raw, grid: Grid, name: str, holes: object) -> None:
    begin, end = _stretches(holes)
    worst = int((end - begin).argmax())
    length = int(end[worst] - begin[worst])
    if length > LACKING_HOURS:
        before = grid.row[max(int(begin[worst]) - 1, 0)]
        refuse(
            raw.file,
            raw.line(int(before)) if before >= 0 else 0,
            f"{_SPOKEN.get(name, name)} is missing for {length} hours from {when(int(grid.local_s[begin[worst]]))}",
            f"at most {LACKING_HOURS} hours in a row",
            "take another source for this stretch, or leave the year out",
        )


def _bridged(values: FloatArray, holes: object) -> FloatArray:
    """Short stretches along a line; longer ones hour by hour from the nearest day before and after that knows it."""
    found = values.copy()
    hour = np.arange(values.size)
    known = ~np.isnan(values)
    line = np.interp(hour, hour[known], values[known])
    for begin, end in zip(*_stretches(holes), strict=True):
        if end - begin <= BRIDGED_HOURS:
            found[begin:end] = line[begin:end]
            continue
        for at in range(int(begin), int(end)):
            near = [side for side in (_nearest(values, at, -24), _nearest(values, at, 24)) if side is not None]
            found[at] = sum(near) / len(near) if near else line[at]
    return found


def _nearest(values: FloatArray, at: int, stride: int) -> float | None:
    for step in range(1, LACKING_HOURS // 24 + 3):
        place = at + step * stride
        if 0 <= place < values.size and not np.isnan(values[place]):
            return float(values[place])
    return None
