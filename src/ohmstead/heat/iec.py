"""Rise of the air in a closed enclosure after IEC TR 60890: from the losses, the cooling surface, and how it stands.

For even losses and little-impeded air, without vents. The curves are remembered, not read: see docs/methods/heat.md.
"""

from bisect import bisect_right

from ..site.record import record
from ..tables.reader import numbers, rows
from .box import CLOSED, FACES, FREE, Box

SMALL_M2 = 1.25  # effective surface up to which the curves of small enclosures hold
EXPONENT = 0.804
PARTITION = (1.0, 1.05, 1.15, 1.30)  # factor d by number of horizontal partitions, large enclosures


class OutsideCurves(ValueError):
    """An enclosure larger than the curves reach, or with more partitions than they allow."""


@record(frozen=True)
class Rise:
    """Of the air over that around: at mid height, and at `top_m` from which it stays the same to the roof."""

    area_m2: float
    middle_k: float
    top_k: float
    middle_m: float
    top_m: float

    def at_k(self, height_m: float) -> float:
        """At a height; below the middle the curve is mirrored, which the report does not say. [K]"""
        slope = (self.top_k - self.middle_k) / (self.top_m - self.middle_m)
        return max(
            2.0 * self.middle_k - self.top_k, min(self.middle_k + slope * (height_m - self.middle_m), self.top_k)
        )


def effective_m2(box: Box) -> float:
    """Effective cooling surface: each face by its factor, the floor never.

    Ae = Σ A · b

    Parameters
    ----------
    box : Box
        The enclosure.

    Returns
    -------
    float
        Surface. [m²]

    Source
    ------
    iec-tr-60890, surface factors.

    Examples
    --------
    >>> round(effective_m2(Box(2.0, 0.8, 0.6, mounting="floor")), 3)
    5.712
    """
    factors = {(row["face"], row["stands"]): float(row["factor"]) for row in rows("enclosure_surface")}
    return sum(box.area_m2(face) * _factor(factors, box, face) for face in FACES)


def _factor(factors: dict[tuple[float | str, float | str], float], box: Box, face: str) -> float:
    stands = box.exposed(face)
    return 0.0 if stands == CLOSED else factors[face if face in ("top", "bottom") else "side", stands]


def between(x: float, points: list[float], values: list[float]) -> float:
    """Straight between points, level beyond them."""
    i = bisect_right(points, x)
    if i == 0 or i == len(points):
        return values[0 if i == 0 else -1]
    share = (x - points[i - 1]) / (points[i] - points[i - 1])
    return values[i - 1] + share * (values[i] - values[i - 1])


def rise_constant(area_m2: float) -> float:
    """Constant k: rise at mid height for one watt.

    Parameters
    ----------
    area_m2 : float
        Effective cooling surface. [m²]

    Returns
    -------
    float
        k; below 1.25 m² the closed form 0.618 · Ae^-0.7366 that its table follows to three digits.

    Source
    ------
    iec-tr-60890, curves of k.

    Examples
    --------
    >>> round(rise_constant(0.5), 3), round(rise_constant(3.0), 3)
    (1.03, 0.225)
    """
    if area_m2 <= SMALL_M2:
        return float(0.618 * area_m2**-0.7366)
    areas, constants = numbers("enclosure_k_large", "area_m2"), numbers("enclosure_k_large", "k")
    if area_m2 > areas[-1]:
        raise OutsideCurves(f"effective surface {area_m2:.1f} m²: the curves end at {areas[-1]:g} m²")
    return between(area_m2, areas, constants)


def _distribution(box: Box, area_m2: float) -> float:
    """Factor c: rise at the top over rise at mid height."""
    if area_m2 <= SMALL_M2:
        slender = box.height_m / box.width_m
        return between(slender, numbers("enclosure_c_small", "slenderness"), numbers("enclosure_c_small", "c"))
    covered = [face for face in ("back", "front", "left", "right") if box.exposed(face) != FREE]
    sides = sum(face in ("left", "right") for face in covered)
    back = len(covered) > sides
    curve = (1, 2, 3)[sides] if not back else (3, 4, 5)[sides]
    slender = box.height_m**1.35 / (box.width_m * box.depth_m)
    return between(slender, numbers("enclosure_c_large", "slenderness"), numbers("enclosure_c_large", f"c_{curve}"))


def enclosure_rise(box: Box, heat_w: float, n_partition: int = 0) -> Rise:
    """Rise of the air at mid height and at the top of a closed enclosure.

    ΔT0.5 = k · d · P^0.804, ΔT1.0 = c · ΔT0.5

    Parameters
    ----------
    box : Box
        The enclosure; vents and fan are not looked at.
    heat_w : float
        Losses in it. [W]
    n_partition : int
        Horizontal partitions, at most three; they count above 1.25 m².

    Returns
    -------
    Rise
        Middle and top. [K]

    Source
    ------
    iec-tr-60890, table 1 and 5.2.

    Examples
    --------
    >>> rise = enclosure_rise(Box(0.6, 0.5, 0.3, mounting="wall"), 35.0)
    >>> round(rise.area_m2, 3), round(rise.middle_k, 1), round(rise.top_k, 1)
    (0.954, 11.2, 13.5)
    """
    if not 0 <= n_partition < len(PARTITION):
        raise OutsideCurves(f"{n_partition} partitions: the method takes three at most")
    area = effective_m2(box)
    small = area <= SMALL_M2
    hindered = 1.0 if small else PARTITION[n_partition]
    middle = rise_constant(area) * hindered * heat_w**EXPONENT
    top = 0.75 * box.height_m if small else box.height_m
    return Rise(area, middle, _distribution(box, area) * middle, 0.5 * box.height_m, top)


def allowed_w(box: Box, top_k: float, n_partition: int = 0) -> float:
    """Losses that give a wanted rise at the top.

    Parameters
    ----------
    box : Box
        The enclosure.
    top_k : float
        Rise at the top. [K]
    n_partition : int
        Horizontal partitions.

    Returns
    -------
    float
        Losses. [W]

    Source
    ------
    iec-tr-60890, solved for the losses.

    Examples
    --------
    >>> round(allowed_w(Box(0.6, 0.5, 0.3, mounting="wall"), 13.5), 1)
    35.0
    """
    one = enclosure_rise(box, 1.0, n_partition).top_k
    return float((top_k / one) ** (1.0 / EXPONENT))
