"""Wire and network cable by type, terminals, sleeves and plugs by shape."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence

from ...site.model import Site
from ...tables.sources import source
from ..cutting.ends import TWO_POLE, Termination
from ..cutting.order import Batch, size_name
from ..cutting.pieces import Piece
from .item import Item

WIRE, CABLE, ENDS, SLEEVES, TAGS = "wire", "network cable", "terminals and plugs", "sleeves", "tags"
MATING = ("pv", "bullet", "rack")
"""Ends whose other half is bought too: both of one make."""
ONE_MAKE = "both halves of one make; makes do not mix"
FITS_INLET = "try it on the inlet before crimping: bore and sign"
ALL_COPPER = "all copper, no copper-clad aluminium"
SIZE_PRINTED = "the size printed on the jacket in mm² or AWG"
STANDARDS = {"mm2": "iec-60228", "vehicle": "iso-6722", "AWG": "astm-b258", "SAE": "iso-sae-sizes"}
RINGS = "crimped with the die of the wire's size"
FIELD_PLUG = "made for the cable's conductor, solid or stranded, and its shield"
FERRULE = "end sleeve {size:g} mm² ({colour}), {tube:g} mm"
FOR_WIRE = "{end} for {wire}"
SHRINK = "shrink sleeve over {end}, {wire}"
UNKNOWN = "end not stated: look at the part"
TAG = "wire tag, printed, for both ends of every piece"


def wire_items(batches: Iterable[Batch]) -> Iterator[Item]:
    """Wire by type and colour, slack counted."""
    for batch in batches:
        wire = batch.wire
        copper = wire is not None and wire.metal in ("copper", "tinned copper")
        ask = "" if wire is None else f"{ALL_COPPER}; {SIZE_PRINTED}" if copper else SIZE_PRINTED
        yield Item(
            WIRE,
            f"{batch.name}, {batch.colour}",
            0,
            0,
            batch.length_m,
            "" if wire is None else str(source(STANDARDS[wire.system])),
            tuple(piece.tag for piece in batch.pieces),
            ask,
            wire,
            sum(piece.length_m for bar in batch.taken if bar.own == "yes" for piece in bar.pieces),
        )


def cable_items(cables: Sequence[Piece]) -> Iterator[Item]:
    """Network cable by kind."""
    kinds: dict[str, list[Piece]] = defaultdict(list)
    for piece in cables:
        kinds[str(piece.run.cable or "data cable")].append(piece)
    for name, group in sorted(kinds.items()):
        cable = group[0].run.cable
        copper = ALL_COPPER if cable and cable.metal == "copper" else ""
        yield Item(
            CABLE,
            name,
            0,
            0,
            sum(piece.length_m for piece in group),
            str(source(cable.source)) if cable else "",
            tuple(piece.tag for piece in group),
            copper,
        )


def end_items(site: Site, pieces: Sequence[Piece], cables: Sequence[Piece]) -> Iterator[Item]:
    """Terminals, end sleeves and plugs with how many. A plug that takes both wires counts once for a run's end."""
    counted: Counter[tuple[str, str, str]] = Counter()
    used: dict[tuple[str, str, str], list[str]] = defaultdict(list)
    for piece, end in each_end((*pieces, *cables)):
        key = _key(end)
        counted[key] += 1
        used[key].append(piece.tag)
    for key in sorted(counted):
        what, standard, ask = key
        yield Item(ENDS, what, counted[key], 0, None, standard, tuple(dict.fromkeys(used[key])), ask)


def each_end(pieces: Iterable[Piece]) -> Iterator[tuple[Piece, Termination]]:
    """Every end that takes something to buy, two-pole plugs once; ends at a fuse holder belong to the holder."""
    seen = set()
    for piece in pieces:
        for side, end in enumerate((piece.start, piece.end)):
            if end.how == "holder":
                continue
            two_pole = end.end is not None and end.end.kind in TWO_POLE
            if two_pole and (piece.run.number, end.at, side) in seen:
                continue
            seen.add((piece.run.number, end.at, side))
            yield piece, end


def _key(end: Termination) -> tuple[str, str, str]:
    """What to buy for an end, its standard, what to ask for."""
    if end.end is None:
        return UNKNOWN, "", ""
    kind, wire = end.end.kind, size_name(end.wire)
    standard = "" if end.end.source == "common-practice" else str(source(end.end.source))
    row = end.ferrule
    if row is not None:
        return (
            FERRULE.format(size=row["size_mm2"], colour=row["colour"], tube=row["tube_mm"]),
            str(source("din-46228")),
            "",
        )
    if kind == "ring":
        return FOR_WIRE.format(end=end.end.name, wire=wire), standard, RINGS
    if kind == "rj45":
        return end.end.name, standard, FIELD_PLUG
    polarity = f", {end.end.polarity}" if end.end.polarity else ""
    ask = ONE_MAKE if kind in MATING else FITS_INLET if kind == "barrel" else ""
    return end.end.name + polarity, standard, ask


def sleeve_items(pieces: Sequence[Piece]) -> Iterator[Item]:
    """Shrink sleeves by wire, one for each joint that takes one."""
    counted: Counter[str] = Counter()
    used: dict[str, list[str]] = defaultdict(list)
    for piece in pieces:
        for end in (piece.start, piece.end):
            if end.sleeve == "shrink sleeve" and end.end is not None:
                what = SHRINK.format(end=end.end.name, wire=size_name(piece.wire))
                counted[what] += 1
                used[what].append(piece.tag)
    for what in sorted(counted):
        yield Item(SLEEVES, what, counted[what], 0, None, "", tuple(dict.fromkeys(used[what])))


def tag_items(pieces: Sequence[Piece]) -> Iterator[Item]:
    """A tag for both ends of every piece."""
    if pieces:
        yield Item(TAGS, TAG, 2 * len(pieces))
