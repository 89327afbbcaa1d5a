"""What is left open in a site, and what could be put in each place."""

from collections import Counter
from collections.abc import Iterator

from ..evidence.remedy import of_family
from ..network.path import air_along
from ..parts.faults import PartError
from ..parts.fuse import Fuse, read_fuse
from ..parts.fuse_family import FuseFamily, fuse_family
from ..parts.wire import Wire, read_wire, standard_sizes
from ..parts.words import tidy
from ..site.kinds import Converter, Distribution
from ..site.model import Run, Site
from ..site.place import Place
from ..site.record import record

COPPER_KG_PER_M_MM2 = 8.89e-3  # density of annealed copper 8890 kg/m³. Source: iec-60949, also in IEC 60028
ALUMINIUM_KG_PER_M_MM2 = 2.703e-3  # IEC 60889, from memory
SYSTEM_OF_RULES = {"IEC": "mm2", "US": "AWG", "small craft": "AWG", "vehicle": "vehicle"}
# Kinds looked through, common and cheap ones first; in a block what its ways take.
IN_BLOCK = ("blade-regular", "blade-regular-58v")
ELSEWHERE = ("blade-regular", "blade-regular-58v", "cylinder-10x38", "stud", "class-t", "nh-gpv", "strip")
HOT_AIR_C = 55.0  # from here on 90 °C insulation is offered too: PVC would bear little; common practice
# Ratings converters are commonly sold in. [W] Common practice, no source.
RATINGS_W = (5, 10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 120, 150, 200, 240, 300, 360, 400, 500, 600, 800, 1000, 1500)


@record(frozen=True)
class Option:
    """One thing that could be put in a place: as the builder would write it, and what it is."""

    text: str
    thing: Wire | Fuse | float
    mass_kg: float = 0.0  # metal of all conductors of the run
    need: float = 0.0  # metres of single wire, or pieces
    rank: int = 0  # order of preference where nothing else tells


@record(frozen=True)
class Decision:
    """One `choose`: whose, what, where it stands in the file, and what could be put there."""

    subject: str
    attribute: str  # "wire" | "fuse" | "rating"
    place: Place
    number: int  # of the run; 0 for a part
    options: tuple[Option, ...]

    @property
    def key(self) -> tuple[str, str]:
        """Subject and attribute."""
        return self.subject, self.attribute


def decisions(site: Site, listed: tuple[str, ...] = ()) -> tuple[Decision, ...]:
    """Everything left open; `listed` are wires and fuses, in a builder's words, to offer besides the standard ones."""
    found: list[Decision] = []
    for run in site.runs:
        if run.origin_of("wire") == "choose" and run.cable is None:
            found.append(
                Decision(run.name, "wire", _place(run, "wire"), run.number, tuple(wire_options(site, run, listed)))
            )
        if run.origin_of("fuse") == "choose":
            found.append(
                Decision(run.name, "fuse", _place(run, "fuse"), run.number, tuple(fuse_options(site, run, listed)))
            )
    for name, part in site.parts.items():
        if isinstance(part, Converter) and part.origin["rating_w"].how == "choose":
            place = part.origin["rating_w"].place or part.place
            ratings = tuple(Option(f"{watts:g} W", float(watts), rank=i) for i, watts in enumerate(RATINGS_W))
            found.append(Decision(name, "rating", place, 0, ratings))
    return tuple(found)


def _place(run: Run, attribute: str) -> Place:
    return run.origin[attribute].place or run.place


def wire_options(site: Site, run: Run, listed: tuple[str, ...]) -> Iterator[Option]:
    """Standard sizes of the builder's own system and kind, thinnest first, with the wires of the list."""
    words = {text: None for text in _standard_wires(site, run)}
    words |= {text: None for text in listed if _wire(text) is not None}
    conductors = 2 if run.wires == "both" else 1
    read = [(wire, text) for text in words if (wire := _wire(text)) is not None]
    for wire, text in sorted(read, key=lambda pair: pair[0].area_mm2):
        metres = conductors * run.length_m
        yield Option(text, wire, metres * wire.area_mm2 * _kg_per_m_mm2(wire), metres)


def _kg_per_m_mm2(wire: Wire) -> float:
    return ALUMINIUM_KG_PER_M_MM2 if wire.metal == "aluminium" else COPPER_KG_PER_M_MM2


def _standard_wires(site: Site, run: Run) -> Iterator[str]:
    system, kind = usual_wire(site)
    hot = air_along(site, run).high
    more = "XLPE 90 °C" if hot >= HOT_AIR_C and "°C" not in kind else ""
    for size in standard_sizes(system):
        yield tidy(f"{size} {kind} {more}")


def usual_wire(site: Site) -> tuple[str, str]:
    """The system of sizes and the kind of wire that most of the builder's own runs have."""
    stated = [run.wire for run in site.runs if run.wire is not None]
    fallback = SYSTEM_OF_RULES[site.about.rules]
    if not stated:
        return fallback, ""
    system = Counter(wire.system for wire in stated).most_common(1)[0][0]
    kinds = Counter(_kind(wire) for wire in stated if wire.system == system)
    return system, kinds.most_common(1)[0][0]


def _kind(wire: Wire) -> str:
    """Strands, metal and insulation in words, as far as they were said."""
    metal = {"tinned copper": "tinned", "copper": ""}.get(wire.metal, "")
    notes = " ".join(wire.assumed)
    strand = "" if "class" in notes or "stranded" in notes or wire.system not in ("mm2", "AWG") else wire.strand_class
    insulation = "" if "°C" in notes else f"{wire.insulation} {wire.insulation_c:g} °C"
    return tidy(f"{strand} {metal} {insulation}")


def _wire(text: str) -> Wire | None:
    try:
        return read_wire(text)
    except PartError:
        return None


def _fuse(text: str) -> Fuse | None:
    try:
        return read_fuse(text)
    except PartError:
        return None


def fuse_options(site: Site, run: Run, listed: tuple[str, ...]) -> Iterator[Option]:
    """Fuses of the kinds that fit the place, those of the list first."""
    own = [fuse for text in listed if (fuse := _fuse(text)) is not None]
    known = [fuse.text for fuse in own]
    for family in _families(site, run):
        known += [of_family(family, rating).text for rating in family.ratings_a]
    for rank, text in enumerate(dict.fromkeys(known)):
        fuse = _fuse(text)
        if fuse is not None:
            yield Option(text, fuse, need=1.0, rank=rank)


def _families(site: Site, run: Run) -> list[FuseFamily]:
    """The kind beside it in the same block first, then the usual ones of such a place."""
    block = next(
        (
            end.part
            for end in (run.start, run.end)
            if end.way is not None and isinstance(site.parts.get(end.part), Distribution)
        ),
        "",
    )
    beside = [
        other.fuse.family.name
        for other in site.runs
        if other.fuse is not None and block and block in (other.start.part, other.end.part)
    ]
    names = [name for name, _ in Counter(beside).most_common()]
    return [fuse_family(name) for name in dict.fromkeys(names + list(IN_BLOCK if block else ELSEWHERE))]
