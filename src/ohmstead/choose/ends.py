"""Plugs and terminals that are left open: what the stud, inlet, port or clamp asks for and the wire allows."""

from collections.abc import Iterator
from dataclasses import replace

from ..evidence.ends import STUDDED, thread
from ..parts.faults import PartError
from ..parts.plug import End, read_end, takes_wire
from ..parts.wire import Wire
from ..site.compose import compose
from ..site.kinds import Busbar, Device, EthernetSource
from ..site.model import Battery, Run, Site
from ..site.nodes import Mapping, Node, Sequence
from ..site.pieces import Endpoint
from ..site.place import Origin, Place
from ..site.record import record

OPEN = "choose"
SPLICES = ("butt red", "butt blue", "butt yellow")
STUD = "goes onto the {stud} stud of {part}"
CLAMP = "goes into the screw clamp of {at}, which holds fine strands only in a sleeve"
BARE = "goes bare into the screw clamp of {at}: {wire} needs or finds no sleeve"
SMALL_SCREW = "goes under a small screw of {part}: no ring for its {stud} stud takes {wire}"
INLET = "goes into the inlet of {part}"
PORT = "goes into the data socket of {at}"
SPLICE = "joins the leads of {part}, which states no plug"
LOOSE = "soldered or clamped as {part} asks: it states no plug, and no splice takes {wire}"
NO_STUD = "{part} does not say what stud its poles have: measure it and add `stud: M8` to {part}"
NO_RING = "no ring is made for the {stud} stud of {part}"
STRANGE = "nothing is known of what {at} takes: state the end of this run"


@record(frozen=True)
class Fitting:
    """What one end of a run gets, as the builder would write it, and why. `end` None: it cannot be told."""

    end: End | None
    text: str
    why: str
    place: Place | None = None


def with_ends(site: Site, run: Run) -> Run:
    """A run with its open ends fitted to the wire it has now. Ends that cannot be told stay open."""
    if run.origin_of("ends") != OPEN:
        return run
    return replace(run, ends=tuple(fitting.end for fitting in fittings(site, run)))


def settled(site: Site, run: Run) -> Run:
    """The same, and no longer counted as left open unless an end cannot be told."""
    found = with_ends(site, run)
    if found is run or None in found.ends:
        return found
    return replace(found, origin={**run.origin, "ends": Origin("stated", "", run.origin["ends"].place)})


def fittings(site: Site, run: Run) -> tuple[Fitting, Fitting]:
    """Both ends of a run whose ends are open or partly so; a stated one stays as it is."""
    one, other = (_fitting(site, run, side) for side in (0, 1))
    return one, other


def _fitting(site: Site, run: Run, side: int) -> Fitting:
    stated = run.ends[side]
    if stated is not None:
        return Fitting(stated, stated.text, "")
    at = run.end if side else run.start
    for text, why in _candidates(site, run, at):
        if not text:
            return Fitting(None, OPEN, why)
        end = read_end(text)
        if run.wire is None or not takes_wire(end, run.wire.area_mm2):
            return Fitting(end, text, why)
    first = next(iter(_candidates(site, run, at)))  # the rules then tell what it does not take
    return Fitting(read_end(first[0]), first[0], first[1])


def _candidates(site: Site, run: Run, at: Endpoint) -> Iterator[tuple[str, str]]:
    """Ends that fit a place, the best first, each with the reason; no text where it cannot be told."""
    part = site.parts.get(at.part)
    owner = site.batteries.get(at.part) or part
    stud_mm = getattr(owner, "stud_mm", None) if at.way is None else None
    names = {"part": at.part, "at": str(at), "wire": str(run.wire), "stud": thread(stud_mm) if stud_mm else ""}
    if stud_mm:
        yield from _rings(stud_mm, names)
        if isinstance(part, Busbar):
            yield from ((text, SMALL_SCREW.format(**names)) for text in ("ferrule", "bare"))
    elif isinstance(owner, Battery):
        yield "", NO_STUD.format(**names)
    elif isinstance(part, Device | EthernetSource):
        yield from _inlets(part, run, at, names)
    elif isinstance(part, STUDDED):
        yield from _clamps(run.wire, names)
    else:
        yield "", STRANGE.format(**names)


def _rings(stud_mm: float, names: dict[str, str]) -> Iterator[tuple[str, str]]:
    text = f"ring {thread(stud_mm)}"
    try:
        text = f"ring {read_end(text).size}"
    except PartError:
        yield "", NO_RING.format(**names)
        return
    yield text, STUD.format(**names)


def _clamps(wire: Wire | None, names: dict[str, str]) -> Iterator[tuple[str, str]]:
    """Fine strands in an end sleeve, solid wire bare."""
    if wire is None or wire.strand_class != "class 1":
        yield "ferrule", CLAMP.format(**names)
    yield "bare", BARE.format(**names)


def _inlets(part: Device | EthernetSource, run: Run, at: Endpoint, names: dict[str, str]) -> Iterator[tuple[str, str]]:
    inlet = part.inlet
    if run.cable is not None or at.way is not None or (isinstance(part, Device) and part.over != "wire"):
        yield "rj45", PORT.format(**names)
    elif inlet is None:
        if isinstance(part, EthernetSource):
            yield from _clamps(run.wire, names)
            return
        yield from ((text, SPLICE.format(**names)) for text in SPLICES)
        yield "bare", LOOSE.format(**names)
    elif inlet.kind == "screw":
        yield from _clamps(run.wire, names)
    elif inlet.kind == "stud" and inlet.stud_mm:
        yield from _rings(inlet.stud_mm, names | {"stud": thread(inlet.stud_mm)})
    elif inlet.kind in ("bare", "butt"):
        yield from ((text, SPLICE.format(**names)) for text in SPLICES)
        yield "bare", LOOSE.format(**names)
    else:
        size = "" if inlet.size == "any" else f" {inlet.size}"
        sign = f" {inlet.polarity}" if inlet.polarity else ""
        yield f"{inlet.kind}{size}{sign}", INLET.format(**names) + (f", {inlet.polarity}" if inlet.polarity else "")


def open_places(site: Site, run: Run) -> list[tuple[Place, tuple[int, ...]]]:
    """Where `choose` stands for the ends of a run, each with the ends (0, 1) that it stands for."""
    whole = run.origin["ends"].place or run.place
    node = _node_at(compose(site.text, site.path)[0], whole) if site.text else None
    if isinstance(node, Sequence):
        return [(node.items[side].place, (side,)) for side, end in enumerate(run.ends) if end is None]
    return [(whole, (0, 1))]


def _node_at(node: Node | None, place: Place) -> Node | None:
    """The value that stands at a place of the file."""
    if node is None or (node.start, node.end) == (place.start, place.end):
        return node
    inner: list[Node] = []
    if isinstance(node, Mapping):
        inner = [value for _, value in node.entries.values()]
    elif isinstance(node, Sequence):
        inner = list(node.items)
    holding = [child for child in inner if child.start <= place.start and place.end <= child.end]
    return next((found for child in holding if (found := _node_at(child, place)) is not None), None)
