"""Sizes of wire: the American gauge, SAE areas, and the resistance each size may have at most."""

from functools import cache

from ..quantity.gauge import KCMIL_MM2, gauge_area_mm2, gauge_number
from ..tables.reader import numbers, words

# Resistivity of annealed copper at 20 °C, 100 % IACS; nΩ·m = Ω·mm²/km. Source: iec-60949.
COPPER_OHM_MM2_PER_KM = 17.241
# Resistance in the metal's place of copper of the same area. Aluminium 28.264 nΩ·m (IEC 60889);
# copper-clad aluminium 1.55 to 1.65 times copper. From memory.
METAL_FACTORS = {
    "copper": 1.0,
    "tinned copper": 1.0,
    "copper-clad aluminium": 1.65,
    "aluminium": 28.264 / 17.241,
}
METAL_LEAST_FACTORS = {**METAL_FACTORS, "copper-clad aluminium": 1.55}
# Stranding over solid of the same gauge, from table 8 (6 AWG to 4/0: 1.019 to 1.023).
STRANDED_FACTOR = 1.023
# Tinned flexible hook-up wire over solid: 9.08/8.285 at 14 AWG, 5.73/5.211 at 12 AWG (ul-cable-chart).
TINNED_STRANDED_FACTOR = 1.10
# Largest ratio of a class 5 value to rho/area in the table of IEC 60228 (1.5 and 2.5 mm²).
FINE_STRANDED_FACTOR = 1.16
FEET_PER_KM = 1000 / 0.3048
AWG_SIZES = tuple(str(n) for n in range(30, 0, -1)) + ("1/0", "2/0", "3/0", "4/0")


def awg_number(size: str) -> int:
    """The number in the gauge's formula: 10 for "10", 0 for "1/0", -3 for "4/0"."""
    number = gauge_number(size)
    if number is None:
        raise ValueError(f"{size!r} is no gauge")
    return number


def awg_area_mm2(size: str) -> float:
    """Cross-section of a gauge. [mm²] Source: astm-b258.

    >>> round(awg_area_mm2("4/0"), 1)
    107.2
    """
    return gauge_area_mm2(awg_number(size))


def sae_area_mm2(size: str) -> float:
    """Least cross-section of SAE cable. [mm²] Source: iso-sae-sizes."""
    return dict(zip(words("sae_area", "size"), numbers("sae_area", "sae_cmil"), strict=True))[size] * KCMIL_MM2 / 1000


@cache
def _metric(table: str, column: str) -> dict[float, float]:
    return dict(zip(numbers(table, "size_mm2"), numbers(table, column), strict=True))


def metric_resistance(area_mm2: float, strand: str, finish: str) -> tuple[float, str] | None:
    """Largest resistance of a metric size at 20 °C and the source key; None off the table. [Ω/km]

    `strand` is "1", "2", "5" or "6"; `finish` is "plain" or "tinned".
    """
    column = f"{finish}_ohm_per_km"
    if strand in ("1", "2"):
        found = _metric("copper_class_2", column).get(area_mm2)
        return None if found is None else (found, "iec-60228")
    found = _metric("copper_class_5", column).get(area_mm2)
    if found is not None:
        return found, "iec-60228"
    small = _metric("copper_class_5_small", column).get(area_mm2)
    return None if small is None else (small, "vde-0295")


def vehicle_resistance(area_mm2: float) -> float | None:
    """Largest resistance of road vehicle cable at 20 °C; None off the table. [Ω/km]"""
    return _metric("vehicle_cable", "resistance_ohm_per_km").get(area_mm2)


@cache
def _stranded_75() -> dict[str, float]:
    table: dict[str, float] = {}
    for name in ("awg_stranded_small", "awg_stranded"):
        table |= dict(zip(words(name, "size"), numbers(name, "at_75_ohm_per_kft"), strict=True))
    return table


def awg_resistance(size: str, strand: str, finish: str) -> tuple[float, str, str]:
    """Largest resistance of a gauge at 20 °C, the source key, and how it was read. [Ω/km]

    `strand` is "solid" or "stranded". A stranded value of the table holds at 75 °C and is brought to 20 °C.
    """
    solid = COPPER_OHM_MM2_PER_KM / awg_area_mm2(size)
    if strand == "solid":
        return solid, "astm-b258", "original"
    if finish == "tinned":
        return solid * TINNED_STRANDED_FACTOR, "ul-cable-chart", "second-hand"
    table = _stranded_75().get(size)
    if table is None:
        return solid * STRANDED_FACTOR, "astm-b258", "original"
    read = "from memory" if awg_number(size) >= 8 else "second-hand"
    return table * FEET_PER_KM / 1000 * (234.5 + 20) / (234.5 + 75), "nec-ch9-t8", read
