"""An array of modules as a thing in space: its facing, its points, its blocks between bypass diodes, its strings."""

from dataclasses import dataclass

import numpy as np

from ..site.sky import Array
from .hours import FloatArray, IntArray

MODULE_W_PER_M2 = 200.0  # common practice, no source: silicon modules, when the size of a field is not stated
MODULE_SLIMNESS = 1.65  # long over short side of a module; common practice, no source
_ALONG, _ACROSS = 6, 3  # points of a block, along and across its long side


@dataclass(frozen=True, slots=True)
class Field:
    """A field in space; metres east, north and up from its middle.

    normal: where it faces. points: (n_block, n_point, 3), where shade is looked for. string: (n_block,), which string
    a block lies in. Every string has the same number of blocks.
    """

    name: str
    tilt_deg: float
    azimuth_deg: float
    normal: FloatArray
    points: FloatArray
    string: IntArray
    n_string: int
    has_diodes: str

    @property
    def radius_m(self) -> float:
        """Of the smallest ball around its middle that holds it."""
        return float(np.sqrt((self.points**2).sum(axis=-1).max()))


def field_of(array: Array) -> Field:
    """The field that an array of the site file makes."""
    width_m, height_m = extent(array)
    n_module = array.series * array.parallel
    columns = n_module // array.rows
    n_block = max(1, array.bypass)
    upright = array.lying == "upright"
    across, up = (columns * n_block, array.rows) if upright else (columns, array.rows * n_block)
    per = (_ACROSS, _ALONG) if upright else (_ALONG, _ACROSS)
    x = (np.arange(across * per[0]) + 0.5) / (across * per[0]) - 0.5
    y = (np.arange(up * per[1]) + 0.5) / (up * per[1]) - 0.5
    sideways, slope, normal = axes(array.tilt_deg, array.azimuth_deg)
    flat = x[None, :, None] * width_m * sideways + y[:, None, None] * height_m * slope
    cells = flat.reshape(up, per[1], across, per[0], 3).transpose(0, 2, 1, 3, 4).reshape(up, across, -1, 3)
    row, column = np.divmod(np.arange(up * across), across)
    module = (row * columns + column // n_block) if upright else ((row // n_block) * columns + column)
    return Field(
        name=array.name,
        tilt_deg=array.tilt_deg,
        azimuth_deg=array.azimuth_deg,
        normal=normal,
        points=cells.reshape(up * across, -1, 3),
        string=(module // array.series).astype(np.int64),
        n_string=array.parallel,
        has_diodes="yes" if array.bypass else "no",
    )


def extent(array: Array) -> tuple[float, float]:
    """Width and height of a field up its slope in metres; from its power where the file does not say."""
    n_module = array.series * array.parallel
    area = n_module * array.power_w / MODULE_W_PER_M2
    if array.width_m is not None and array.height_m is not None:
        return array.width_m, array.height_m
    if array.width_m is not None:
        return array.width_m, area / array.width_m
    if array.height_m is not None:
        return area / array.height_m, array.height_m
    short = (array.power_w / MODULE_W_PER_M2 / MODULE_SLIMNESS) ** 0.5
    tall = short * (MODULE_SLIMNESS if array.lying == "upright" else 1.0)
    return area / (tall * array.rows), tall * array.rows


def axes(tilt_deg: float, azimuth_deg: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Unit vectors of a plane: to its right as one looks at it from behind, up its slope, outward.

    Parameters
    ----------
    tilt_deg : float
        From the horizontal. [°]
    azimuth_deg : float
        From north over east. [°]

    Returns
    -------
    tuple of arrays, each of shape (3,)
        East, north and up.

    Source
    ------
    duffie-beckman, figure 1.6.1.

    Examples
    --------
    >>> [axis.round(3).tolist() for axis in axes(90.0, 90.0)]
    [[0.0, -1.0, 0.0], [-0.0, -0.0, 1.0], [1.0, 0.0, 0.0]]
    """
    tilt, azimuth = np.radians(tilt_deg), np.radians(azimuth_deg)
    sideways = np.array([np.cos(azimuth), -np.sin(azimuth), 0.0])
    slope = np.array([-np.cos(tilt) * np.sin(azimuth), -np.cos(tilt) * np.cos(azimuth), np.sin(tilt)])
    normal = np.array([np.sin(tilt) * np.sin(azimuth), np.sin(tilt) * np.cos(azimuth), np.cos(tilt)])
    return sideways, slope, normal
