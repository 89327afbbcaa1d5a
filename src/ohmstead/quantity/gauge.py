"""American wire gauge as an area of copper.

Source: ASTM B258: diameter = 0.005 in · 92^((36 - n) / 39), with 1/0 = 0, 2/0 = -1, 3/0 = -2, 4/0 = -3.
"""

import math
import re

THICKEST, THINNEST = -3, 56
KCMIL_MM2 = math.pi / 4 * 0.0254**2 * 1000
"""Area of a thousand circular mils. [mm²]"""

_GAUGE = re.compile(r"(?:AWG\s*)?#?(?:([1-4])/0|(0{1,4})|([1-9][0-9]?))(?:\s*AWG)?", re.IGNORECASE)


def gauge_area_mm2(gauge: int) -> float:
    """Area of a solid round wire of an American wire gauge.

    A = π/4 · (0.127 mm · 92^((36 - n) / 39))²

    Parameters
    ----------
    gauge : int
        Gauge number; 0, -1, -2, -3 stand for 1/0, 2/0, 3/0, 4/0. [-]

    Returns
    -------
    float
        Area of the copper. [mm²]

    Source
    ------
    ASTM B258, section on the geometric series of diameters.

    Examples
    --------
    >>> round(gauge_area_mm2(10), 3)
    5.261
    """
    diameter_mm: float = 0.127 * 92.0 ** ((36 - gauge) / 39)
    return math.pi / 4 * diameter_mm**2


def gauge_number(text: str) -> int | None:
    """The gauge number written as "10 AWG", "AWG 10", "2/0 AWG" or "00 AWG"; None if it is not one."""
    found = _GAUGE.fullmatch(text)
    if found is None:
        return None
    aught, zeros, plain = found.groups()
    if aught:
        return 1 - int(aught)
    return 1 - len(zeros) if zeros else int(plain)


def gauge_name(gauge: int) -> str:
    """How a gauge number is written: "10 AWG", "2/0 AWG"."""
    return f"{gauge} AWG" if gauge > 0 else f"{1 - gauge}/0 AWG"


def nearest_gauge(area_mm2: float) -> int:
    """The gauge whose area is nearest to this one in ratio, between 4/0 and 56.

    Parameters
    ----------
    area_mm2 : float
        Area of the copper, above zero. [mm²]

    Returns
    -------
    int
        Gauge number; 0, -1, -2, -3 stand for 1/0, 2/0, 3/0, 4/0. [-]

    Source
    ------
    ASTM B258, the inverse of the geometric series.

    Examples
    --------
    >>> nearest_gauge(2.5)
    13
    """
    diameter_mm = math.sqrt(area_mm2 * 4 / math.pi)
    gauge = 36 - 39 * math.log(diameter_mm / 0.127, 92)
    return min(max(round(gauge), THICKEST), THINNEST)
