"""Wire as a builder names it: "2.5 mm2", "16 mm2 tinned XLPE 90 °C", "8 gauge SAE", "10 AWG CCA"."""

from dataclasses import dataclass, replace
from functools import cache

from ..tables.reader import numbers, words
from . import gauges
from .faults import PartError
from .insulation import Insulation, read_insulation
from .wire_size import EXPECTED, WireSize, read_wire_size
from .words import like, take, tidy, without

SYSTEMS = ("mm2", "AWG", "SAE", "vehicle")
_FILLERS = [
    "wire",
    "cable",
    "copper",
    "plain",
    "bare",
    "single",
    "core",
    "conductor",
    "battery",
    "twin",
    "fine",
]
_KNOWN = ["solid", "stranded", "flexible", "tinned", "aluminium", "copper-clad", "class", "vehicle", "gauge"]


@dataclass(frozen=True, slots=True)
class Wire:
    """One conductor. Resistances are of one wire, not of the loop.

    `resistance_20_ohm_per_km` is the most the standard allows (for voltage drop and the smallest fault);
    `resistance_20_best_ohm_per_km` the least it can have (for the largest fault).
    `assumed` names what the builder left unsaid; `ambiguous` tells both readings of an unclear size.
    """

    designation: str
    system: str
    size: str
    area_mm2: float
    resistance_20_ohm_per_km: float
    resistance_20_best_ohm_per_km: float
    strand_class: str
    metal: str
    insulation: str
    insulation_c: float
    fault_c: float
    source: str
    read: str
    assumed: tuple[str, ...] = ()
    ambiguous: str = ""

    def __str__(self) -> str:
        return self.designation


@cache
def read_wire(text: str) -> Wire:
    """The wire behind a builder's words, in any order. Raises PartError.

    >>> wire = read_wire("2.5 mm² class 2")
    >>> wire.area_mm2, wire.resistance_20_ohm_per_km, wire.assumed
    (2.5, 7.41, ('PVC 70 °C',))
    """
    rest = tidy(text.replace(",", " ") if not take(text, r"\d,\d") else _refuse_comma(text))
    insulation, said_insulation, rest = read_insulation(rest)
    metal, rest = _metal(rest)
    strand, rest = _strand(rest)
    size, rest = read_wire_size(rest, text)
    left = [word for word in rest.lower().split() if word not in _FILLERS]
    if left:
        guess = like(left[0], _KNOWN + _FILLERS)
        mend = f"did you mean {guess}?" if guess else f"leave out {left[0]!r}"
        raise PartError(f"{left[0]!r} says nothing about a wire", EXPECTED, mend)
    return _wire(tidy(text), size, metal, strand, insulation, said_insulation)


def _refuse_comma(text: str) -> str:
    raise PartError(f"{text!r} has a comma inside a number", EXPECTED, "write a decimal point: 2.5 mm2")


def _metal(text: str) -> tuple[str, str]:
    """The metal, and the text without its words."""
    clad = r"\b(?:cca|copper[- ]clad(?: alumini?um)?)\b"
    if take(text, clad):
        return "copper-clad aluminium", without(text, clad)
    aluminium = r"\b(?:alumini?um|alu)\b"
    if take(text, aluminium):
        return "aluminium", without(text, aluminium)
    tinned = r"\btinned\b"
    if take(text, tinned):
        return "tinned copper", without(text, tinned)
    return "copper", text


def _strand(text: str) -> tuple[str, str]:
    """Strand class "1", "2", "5", "6", or "" when unsaid, and the text without its words."""
    found = take(text, r"\bclass\s*(\d+)\b")
    if found:
        if found[0] not in ("1", "2", "5", "6"):
            raise PartError(f"there is no conductor class {found[0]}", "class 1, 2, 5 or 6", "class 5 is flexible wire")
        return found[0], without(text, r"\bclass\s*\d+\b")
    for word, strand in (("solid", "1"), ("stranded", "2"), ("flexible", "5"), ("fine-stranded", "5")):
        if take(text, rf"\b{word}\b"):
            return strand, without(text, rf"\b{word}\b")
    return "", text


def _wire(text: str, size: WireSize, metal: str, strand: str, insulation: Insulation, said: str) -> Wire:
    """Puts resistances and assumptions together."""
    assumed = [] if said else [f"{insulation.name} {insulation.limit_c:g} °C"]
    finish = "tinned" if metal == "tinned copper" else "plain"
    if size.system == "AWG":
        kind = "solid" if strand == "1" else "stranded"
        if not strand:
            assumed.append("stranded")
        ohm, source, read = gauges.awg_resistance(size.size.split()[0], kind, finish)
    elif size.system == "SAE":
        kind = "stranded"
        factor = gauges.TINNED_STRANDED_FACTOR if finish == "tinned" else gauges.STRANDED_FACTOR
        ohm, source, read = (
            gauges.COPPER_OHM_MM2_PER_KM / size.area_mm2 * factor,
            "iso-sae-sizes",
            "second-hand",
        )
    else:
        kind = f"class {strand or '5'}"
        if not strand and size.system == "mm2":
            assumed.append("class 5, flexible")
        found = _table_resistance(size, strand or "5", finish)
        if found is None:
            assumed.append(f"{size.size} is no standard size; resistance from the area")
            factor = gauges.FINE_STRANDED_FACTOR * (1.03 if finish == "tinned" else 1.0)
            ohm, source, read = (
                gauges.COPPER_OHM_MM2_PER_KM / size.area_mm2 * factor,
                "iec-60949",
                "second-hand",
            )
        else:
            ohm, source, read = found
    best = gauges.COPPER_OHM_MM2_PER_KM / size.area_mm2 * gauges.METAL_LEAST_FACTORS[metal]
    ohm *= gauges.METAL_FACTORS[metal]
    return Wire(
        text,
        size.system,
        size.size,
        size.area_mm2,
        ohm,
        min(best, ohm),
        kind,
        metal,
        insulation.name,
        insulation.limit_c,
        insulation.fault_c,
        source,
        read,
        tuple(assumed),
        size.ambiguous,
    )


def _table_resistance(size: WireSize, strand: str, finish: str) -> tuple[float, str, str] | None:
    """Largest resistance from the tables of metric sizes."""
    if size.system == "vehicle" and finish == "plain":
        ohm = gauges.vehicle_resistance(size.area_mm2)
        return None if ohm is None else (ohm, "iso-6722", "second-hand")
    found = gauges.metric_resistance(size.area_mm2, strand, finish)
    return None if found is None else (*found, "second-hand")


def standard_sizes(system: str) -> tuple[str, ...]:
    """The sizes one can buy, thinnest first, as `read_wire` reads them.

    >>> standard_sizes("mm2")[:4]
    ('0.5 mm2', '0.75 mm2', '1 mm2', '1.5 mm2')
    """
    if system == "mm2":
        return tuple(f"{size:g} mm2" for size in numbers("copper_class_5", "size_mm2"))
    if system == "vehicle":
        return tuple(f"{size:g} mm2 vehicle" for size in numbers("vehicle_cable", "size_mm2"))
    if system == "SAE":
        return tuple(f"{size} gauge SAE" for size in words("sae_area", "size"))
    if system == "AWG":
        return tuple(f"{size} AWG" for size in gauges.AWG_SIZES if size in words("sae_area", "size"))
    raise PartError(f"{system!r} is no system of wire sizes", ", ".join(SYSTEMS), "use mm2")


def next_larger(wire: Wire) -> Wire | None:
    """The same wire one standard size thicker; None when it is the thickest."""
    for text in standard_sizes(wire.system):
        candidate = like_wire(wire, text)
        if candidate.area_mm2 > wire.area_mm2 * 1.0001:
            return candidate
    return None


def like_wire(wire: Wire, size: str) -> Wire:
    """A wire of another size with the same metal, strands and insulation."""
    words_of = {
        "copper": "",
        "tinned copper": "tinned",
        "copper-clad aluminium": "CCA",
        "aluminium": "aluminium",
    }
    strand = wire.strand_class if wire.system in ("mm2", "AWG") else ""
    other = read_wire(tidy(f"{size} {strand} {words_of[wire.metal]}"))
    return replace(
        other,
        insulation=wire.insulation,
        insulation_c=wire.insulation_c,
        fault_c=wire.fault_c,
        assumed=wire.assumed,
        designation=tidy(f"{size} {words_of[wire.metal]}"),
    )
