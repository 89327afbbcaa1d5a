"""Network cable that carries power: "Cat5e 24 AWG", "Cat6", "Cat5e CCA"."""

from dataclasses import dataclass
from functools import cache

from ..tables.reader import rows
from . import gauges
from .faults import PartError
from .words import like, take, tidy, without

EXPECTED = "a network cable such as Cat5e 24 AWG or Cat6 23 AWG"
# Patch cords may have 20 % more resistance than solid cable of the category. From memory (iec-11801).
PATCH_FACTOR = 1.2
PAIRS = 4
_KNOWN = r"\b(?:cca|copper[- ]clad|aluminium|patch|stranded|flexible|solid|cable|copper|cord|[usf]{0,2}/?[uf]tp)\b"


@dataclass(frozen=True, slots=True)
class EthernetCable:
    """Four twisted pairs. `conductor_ohm_per_km` is one conductor at 20 °C, the most allowed."""

    designation: str
    name: str
    gauge: str
    area_mm2: float
    conductor_ohm_per_km: float
    conductor_best_ohm_per_km: float
    metal: str
    source: str
    read: str
    assumed: tuple[str, ...] = ()

    def __str__(self) -> str:
        return self.designation


@cache
def read_ethernet_cable(text: str) -> EthernetCable:
    """The cable behind a builder's words. Raises PartError.

    >>> read_ethernet_cable("Cat5e 24 AWG").conductor_ohm_per_km
    93.8
    """
    found = take(text, r"\bcat(?:egory)?\.?\s*(\d[a-z]?)\b")
    if found is None:
        raise PartError(f"{text!r} names no category", EXPECTED, "start with the category, such as Cat5e")
    table = {str(row["name"]).lower(): row for row in rows("ethernet_cable")}
    category = _category(found[0], table)
    row = table[category]
    gauge = take(text, r"(\d{2})\s*awg\b") or take(text, r"\bawg\s*(\d{2})\b")
    rest = without(without(text, r"\bcat(?:egory)?\.?\s*\d[a-z]?\b"), r"\d{2}\s*awg\b|\bawg\s*\d{2}\b")
    size = gauge[0] if gauge else str(row["gauge"]).split()[0]
    if not 22 <= int(size) <= 30:
        raise PartError(f"{size} AWG is no conductor of network cable", "22 to 30 AWG", "24 AWG is usual for Cat5e")
    assumed = [] if gauge else [f"{size} AWG"]
    metal = "copper-clad aluminium" if take(rest, r"\b(?:cca|copper[- ]clad)\b") else "copper"
    patch = take(rest, r"\b(?:patch|stranded|flexible)\b") is not None
    while take(rest, _KNOWN):
        rest = without(rest, _KNOWN)
    if tidy(rest):
        raise PartError(f"{tidy(rest)!r} says nothing about a network cable", EXPECTED, f"leave out {tidy(rest)!r}")
    ohm = _conductor_ohm_per_km(size, str(row["gauge"]).split()[0], float(row["conductor_ohm_per_km"]))
    ohm *= (PATCH_FACTOR if patch else 1.0) * gauges.METAL_FACTORS[metal]
    area = gauges.awg_area_mm2(size)
    best = gauges.COPPER_OHM_MM2_PER_KM / area * gauges.METAL_LEAST_FACTORS[metal]
    return EthernetCable(
        tidy(text),
        str(row["name"]),
        f"{size} AWG",
        area,
        ohm,
        min(best, ohm),
        metal,
        "iec-11801",
        "second-hand",
        tuple(assumed),
    )


def _category(word: str, table: dict[str, dict[str, float | str]]) -> str:
    """The row of the table that holds a category."""
    name = {"5": "cat5e", "6a": "cat6", "7a": "cat7"}.get(word.lower(), "cat" + word.lower())
    if name in table:
        return name
    guess = like(name, list(table))
    mend = f"did you mean {table[guess]['name']}?" if guess else "Cat5e is the usual one"
    raise PartError(f"no category {word}", EXPECTED, mend)


def _conductor_ohm_per_km(size: str, usual: str, table_ohm_per_km: float) -> float:
    """The category's limit at its usual gauge; another gauge keeps the same allowance over solid copper."""
    return table_ohm_per_km * gauges.awg_area_mm2(usual) / gauges.awg_area_mm2(size)
