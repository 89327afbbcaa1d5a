"""Wiring ducts: where they lie, and how full they are."""

from collections.abc import Iterable
from math import pi
from typing import NamedTuple

from .box import Box, Spot

WALL_MM = 1.0  # of a slotted duct of plastic; common practice, no source


class Duct(NamedTuple):
    """One duct. `way` is "level" or "upright"; `height` is how far it stands off the plate. [mm]"""

    name: str
    box: Box
    way: str
    height: float

    @property
    def width(self) -> float:
        """Across its length. [mm]"""
        return self.box.height if self.way == "level" else self.box.width

    @property
    def line(self) -> float:
        """Where its middle line lies: y of a level one, x of an upright one. [mm]"""
        return self.box.middle[1] if self.way == "level" else self.box.middle[0]

    @property
    def ends(self) -> Spot:
        """From where to where it reaches along its length. [mm]"""
        return (self.box.left, self.box.right) if self.way == "level" else (self.box.top, self.box.bottom)


def ducts_of(
    across_mm: Iterable[float], upright_mm: Iterable[float], section_mm: Spot, within: Box
) -> tuple[Duct, ...]:
    """Level ducts by their upper edges, then upright ones by their left edges, across the whole of `within`."""
    wide, high = section_mm
    level = [
        Duct(f"level {number}", Box(within.left, top, within.right, top + wide), "level", high)
        for number, top in enumerate(across_mm, 1)
    ]
    upright = [
        Duct(f"upright {number}", Box(left, within.top, left + wide, within.bottom), "upright", high)
        for number, left in enumerate(upright_mm, 1)
    ]
    return (*level, *upright)


def inside_mm2(width_mm: float, height_mm: float, wall_mm: float = WALL_MM) -> float:
    """Cross-section that wires can use.

    Parameters
    ----------
    width_mm, height_mm : float
        Outer size of the duct. [mm]
    wall_mm : float
        Thickness of its walls. [mm]

    Returns
    -------
    float
        Inner cross-section. [mm²]

    Examples
    --------
    >>> inside_mm2(50, 50)
    2304.0
    """
    return max(0.0, width_mm - 2 * wall_mm) * max(0.0, height_mm - 2 * wall_mm)


def bundle_mm2(diameters_mm: Iterable[float]) -> float:
    """Cross-section of round wires, insulation included: what fill limits count.

    Parameters
    ----------
    diameters_mm : iterable of float
        Outer diameter of each wire. [mm]

    Returns
    -------
    float
        Sum of their circles. [mm²]

    Source
    ------
    bs-7671, space factor: the cross-section of a cable is that of its circle.

    Examples
    --------
    >>> round(bundle_mm2([4.0, 4.0]), 1)
    25.1
    """
    return sum(pi / 4 * d * d for d in diameters_mm)
