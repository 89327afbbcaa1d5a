"""What a reader hands on: rows as they stand in a file, with their clock, before anything is mended."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from .hours import HOUR_S, FloatArray, IntArray


@dataclass(frozen=True, slots=True)
class Raw:
    """Rows of a weather file.

    columns: quantity -> values, nan where missing; "ghi", "dni", "dhi" [W/m²], "air" [°C], "wind" [m/s], and series
    under "plane ..." [W/m²] or "harvest ..." [W]. local_s: start of each row's interval in the weather's standard
    time, counted as if that were UTC. offset_s: standard time minus UTC. lines: line of each row in the file, empty
    when it has none. years: "typical" (months of many years make one) or "true". step_s: interval of a row.
    """

    file: str
    columns: Mapping[str, FloatArray]
    local_s: IntArray
    offset_s: int
    lines: IntArray
    years: str
    latitude: float
    longitude: float
    elevation_m: float
    notes: tuple[str, ...] = ()
    step_s: int = HOUR_S

    def line(self, row: int) -> int:
        """Line of the file that a row stands in; 0 when lines mean nothing."""
        return int(self.lines[row]) if self.lines.size else 0


def when(local_s: int) -> str:
    """An hour of the weather's clock as text.

    Parameters
    ----------
    local_s : int
        Standard time, counted as if it were UTC. [s]

    Returns
    -------
    str
        Date and time.

    Source
    ------
    None needed.

    Examples
    --------
    >>> when(3600)
    '1970-01-01 01:00'
    """
    return str(np.datetime64(int(local_s), "s")).replace("T", " ")[:16]
