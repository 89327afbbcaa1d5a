"""What a wire may carry for hours, by the table set that judges the site.

"IEC" uses the tables of IEC 60364-5-52 for two loaded conductors, "US" those of NFPA 70, "small craft"
the public federal table, "vehicle" the guide currents of road vehicle cable. Between two sizes of a table
the value is taken on the log-log line; thinner wire keeps the current density of the thinnest row;
thicker wire counts as the thickest row.
"""

from dataclasses import dataclass
from functools import cache
from math import sqrt
from typing import Protocol

from ..parts import gauges
from ..parts.fuse_family import between
from ..parts.wire import Wire
from ..tables.reader import columns, numbers, words
from .conductor import ZERO_BELOW_C, temperature_factor

METHODS = ("free air", "clipped", "in conduit", "in trunking", "bundled")
RULES = ("IEC", "US", "small craft", "vehicle")
TABLE_AIR_C = 30.0
COLDEST_AIR_C = 10.0  # the tables give no more current below this
Points = tuple[tuple[float, float], ...]


class Laying(Protocol):
    """Anything that says how a run is laid."""

    @property
    def method(self) -> str:
        """One of METHODS."""

    @property
    def circuits(self) -> int:
        """Loaded circuits side by side, this one included."""


@dataclass(frozen=True, slots=True)
class Laid:
    """How a run is laid. `circuits` counts the loaded circuits side by side, this one included."""

    method: str = "in trunking"
    circuits: int = 1


@dataclass(frozen=True, slots=True)
class Ampacity:
    """An ampacity and where it comes from: base at 30 °C times the factors."""

    value_a: float
    base_a: float
    ambient_factor: float
    grouping_factor: float
    metal_factor: float
    limit_c: float
    table: str
    column: str
    source: str
    place: str
    read: str
    note: str = ""


def ampacity_a(wire: Wire, laid: Laying, ambient_c: float, rules: str = "IEC") -> Ampacity:
    """What the wire may carry for hours.

    Iz = table · √((Tlimit - Ta) / (Ttable - 30)) · grouping · metal

    Parameters
    ----------
    wire : Wire
        One conductor of the run.
    laid : Laid
        How it is laid: method and loaded circuits side by side.
    ambient_c : float
        Air around it. [°C]
    rules : str
        "IEC", "US", "small craft" or "vehicle".

    Returns
    -------
    Ampacity
        The value with its table, place and factors; 0 where the air is as hot as the insulation bears. [A]

    Insulation for more than 90 °C is counted by its own limit in hot air, up to the current of the 90 °C column.

    Source
    ------
    iec-60364-5-52, nec-310-16, nec-310-17, 33-cfr-183, iso-6722.

    Examples
    --------
    >>> from ohmstead.parts.wire import read_wire
    >>> round(ampacity_a(read_wire("4 mm2 XLPE"), Laid("in trunking", 3), 60.0).value_a, 1)
    20.8
    """
    if laid.method not in METHODS:
        raise ValueError(f"no ampacity table for {laid.method!r}; there are {', '.join(METHODS)}")
    if rules not in RULES:
        raise ValueError(f"no table set {rules!r}; there are {', '.join(RULES)}")
    table, column, table_c = _choose(wire, laid, rules)
    points = _points(table, column)
    base, note = _at_size(wire.area_mm2, points)
    limit_c = min(wire.insulation_c, table_c)
    ambient = _ambient_factor(limit_c, table_c, ambient_c, rules)
    if table == "iec_xlpe90" and wire.insulation_c > table_c and ambient_c > TABLE_AIR_C:
        ambient, limit_c = _beyond_table(wire.insulation_c, table_c, ambient_c)
    grouping = _grouping_factor(laid, rules)
    metal = sqrt(1.0 / gauges.METAL_FACTORS[wire.metal])  # same heat, so the root of the resistances' ratio
    value = base * ambient * grouping * metal
    return Ampacity(value, base, ambient, grouping, metal, limit_c, table, column, *_PROVENANCE[table], note)


def stated_ampacity(value_a: float) -> Ampacity:
    """What the builder says the wire may carry, in place of the table.

    Parameters
    ----------
    value_a : float
        Stated current. [A]

    Returns
    -------
    Ampacity
        The stated value, no table.

    Source
    ------
    The site file.

    Examples
    --------
    >>> stated_ampacity(20.0).read
    'stated'
    """
    return Ampacity(value_a, value_a, 1.0, 1.0, 1.0, 70.0, "", "", "", "", "stated")


_PROVENANCE = {
    "iec_pvc70": ("iec-60364-5-52", "table B.52.2", "from memory"),
    "iec_xlpe90": ("iec-60364-5-52", "table B.52.3", "second-hand"),
    "nec_raceway": ("nec-310-16", "table 310.16", "second-hand"),
    "nec_free_air": ("nec-310-17", "table 310.17", "from memory"),
    "small_craft_ampacity": ("33-cfr-183", "183.425 table 5", "original"),
    "vehicle_cable": ("iso-6722", "guide currents of VDE 0298-4", "second-hand"),
}


def _choose(wire: Wire, laid: Laying, rules: str) -> tuple[str, str, float]:
    """Table, column and the conductor temperature the column is made for."""
    limit = wire.insulation_c
    if rules == "small craft":
        best = max((c for c in (60, 75, 80, 90, 105, 125, 200) if c <= limit), default=60)
        return "small_craft_ampacity", f"at_{best}_c", float(best)
    if rules == "US":
        best = max((c for c in (60, 75, 90) if c <= limit), default=60)
        return "nec_free_air" if laid.method == "free air" else "nec_raceway", f"at_{best}_c", float(best)
    if rules == "vehicle" and laid.method in ("free air", "bundled"):
        return "vehicle_cable", "at_30_a", 70.0
    table, table_c = ("iec_xlpe90", 90.0) if limit >= 90 else ("iec_pvc70", 70.0)
    if laid.method in ("in conduit", "in trunking"):
        return table, "b1_a", table_c
    free = laid.method in ("free air", "bundled") and wire.area_mm2 >= 25
    return table, "f_a" if free else "c_a", table_c


@cache
def _points(table: str, column: str) -> Points:
    """Cross-section and current of every filled row, thinnest first."""
    if "size_mm2" in columns(table):
        sizes = numbers(table, "size_mm2")
    else:
        sizes = [gauges.awg_area_mm2(size) for size in words(table, "size")]
    pairs = zip(sizes, numbers(table, column), strict=True)
    return tuple(sorted((size, current) for size, current in pairs if current == current))


def _at_size(area_mm2: float, points: Points) -> tuple[float, str]:
    """The table's current for a cross-section, and a note when it is not a row of it."""
    (least, least_a), (most, _) = points[0], points[-1]
    if area_mm2 < least * 0.995:
        return least_a * area_mm2 / least, "thinner than the table: current density of its thinnest row"
    if area_mm2 > most * 1.005:
        return points[-1][1], "thicker than the table: counted as its thickest row"
    for size, current in points:
        if abs(area_mm2 / size - 1) < 0.005:
            return current, ""
    return between(area_mm2, points), "between two sizes of the table"


def _ambient_factor(limit_c: float, table_c: float, ambient_c: float, rules: str) -> float:
    """Root law of heat flow; small-craft and vehicle tables give no bonus for cold air."""
    coldest = COLDEST_AIR_C if rules in ("IEC", "US") else TABLE_AIR_C
    air = max(ambient_c, coldest)
    return sqrt(max(0.0, limit_c - air) / (table_c - TABLE_AIR_C))


def _beyond_table(insulation_c: float, table_c: float, air_c: float) -> tuple[float, float]:
    """Factor and conductor temperature for insulation that bears more than the table's hottest column.

    I² R(T) goes with T - Ta, R(T) with β + T. The current of the table holds as long as the insulation bears the
    temperature at which it settles, and no more is given: terminals are made for the table's. Above that the
    insulation's own limit rules.
    """
    rise = table_c - TABLE_AIR_C
    slope = rise / (ZERO_BELOW_C["copper"] + table_c)
    settles_c = (air_c + slope * ZERO_BELOW_C["copper"]) / (1 - slope)
    if settles_c <= insulation_c:
        return 1.0, settles_c
    warmer = temperature_factor(insulation_c) / temperature_factor(table_c)
    return sqrt(max(0.0, insulation_c - air_c) / rise / warmer), insulation_c


def _grouping_factor(laid: Laying, rules: str) -> float:
    """Share of the single circuit's current when several lie together."""
    circuits = max(1, laid.circuits)
    if rules == "US":
        return _step("nec_conductor_count", 2 * circuits)
    if rules == "small craft":
        return _step("small_craft_bundling", 2 * circuits)
    column = "single_layer_fraction" if laid.method in ("clipped", "free air") else "bunched_fraction"
    factors = numbers("iec_grouping", column)
    if circuits <= len(factors):
        return factors[circuits - 1]
    return factors[-1] * sqrt(len(factors) / circuits) if column == "bunched_fraction" else factors[-1]


def _step(table: str, conductors: int) -> float:
    """The factor of the last row whose count is reached."""
    starts, factors = numbers(table, "from_conductors"), numbers(table, "factor_fraction")
    return [factor for start, factor in zip(starts, factors, strict=True) if start <= conductors][-1]
