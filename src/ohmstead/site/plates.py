"""What a site says of its mounting plate: the plate, the parts on it, where cables enter.

Everything is measured from the upper left corner of the plate, to the right and down, in millimetres.
Sides of a part are those of the part as it stands before it is turned.
"""

from collections.abc import Mapping
from dataclasses import field

from .declare import key
from .place import Origin, Place
from .record import record

NOWHERE = Place("", 0, 0, 0, 0)
SIDES = "top|bottom|left|right|front"
Spot = tuple[float, float]


@record(frozen=True)
class Mount:
    """A part as it is mounted; what is not written is taken from a table of usual sizes."""

    name: str
    size_mm: tuple[float, float, float] | None = key(
        "size", "box", "width, height and depth of its outline, with its feet, before it is turned"
    )
    at_mm: Spot | None = key("at", "spot", "its upper left corner as it stands; left out: a place is found for it")
    turned_deg: float | None = key(
        "turned", "number:angle", "clockwise: 0°, 90°, 180° or 270°; left out: upright", bounds="0..270"
    )
    may_turn: str = key("may turn", "word:no|yes", "`yes` when it may be turned to find a place for it", default="no")
    holes_mm: tuple[Spot, ...] | None = key(
        "holes", "holes", "four holes so far apart, `100 x 50 mm`, or where each is, from its upper left corner"
    )
    hole_mm: float | None = key("hole", "millimetres", "diameter to drill for its screws")
    input_side: str = key("in", f"word:{SIDES}", "side on which power comes in", default="")
    output_side: str = key("out", f"word:{SIDES}", "side with outlets, ways or ports", default="")
    hands_mm: float | None = key("hands", "millimetres", "free before its terminals and plugs, for a hand")
    air_mm: float | None = key("air", "millimetres", "free above and below it, for air")
    plug_mm: float | None = key("plug", "millimetres", "straight length of a plug before its cable can bend")
    bend_times: float | None = key(
        "bend", "number:number", "smallest inner radius of its cables, as a multiple of their diameter", bounds="0..30"
    )
    lights: str = key("lights", f"word:none|{SIDES}", "side with indicator lights that must be seen", default="")
    heat_w: float | None = key(
        "heat",
        "number:power",
        "what it turns into heat; hot parts stand high",
        bounds="0 or more",
    )
    mains: str = key("mains", "word:no|yes", "`yes` when it has mains voltage on it", default="")
    stands: str = key(
        "stands", "word:plate|elsewhere", "`elsewhere` when it is in the zone but not on the plate", default=""
    )
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)


@record(frozen=True)
class Entry:
    """Where cables come onto the plate: a gland, a slot, a part on the door or the wall of the box."""

    name: str
    at_mm: Spot = key("at", "spot", "where it is", default=(0.0, 0.0), why="wires are led there")
    for_: tuple[str, ...] = key(
        "for", "names", "parts or batteries beyond it; others take the nearest entry", default=()
    )
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)


@record(frozen=True)
class Plate:
    """The mounting plate of a cabinet, seen from the front."""

    zone: str = key(
        "zone", "text", "the zone whose parts stand on it", default="", why="it says which parts stand on the plate"
    )
    size_mm: tuple[float, float] = key(
        "size", "area", "width and height", default=(0.0, 0.0), why="places are found on it"
    )
    depth_mm: float = key(
        "depth",
        "millimetres",
        "from the plate to the closed door",
        default=0.0,
        why="parts and plugs must fit behind it",
    )
    edge_mm: float = key(
        "edge",
        "millimetres",
        "kept free along its edges",
        default=10.0,
        assumed="10 mm free along the edges",
        bounds="0 or more",
    )
    apart_mm: float = key(
        "apart",
        "millimetres",
        "least gap between parts",
        default=5.0,
        assumed="5 mm between parts",
        bounds="0 or more",
    )
    ducts_mm: tuple[float, float] | None = key(
        "ducts", "area", "width and height of its wiring ducts; left out: wires follow the edges of the parts"
    )
    rows: int | None = key(
        "rows", "number:count", "rows of parts between level ducts; left out: as many as serve best", bounds="1..6"
    )
    across_mm: tuple[float, ...] = key(
        "across", "distances", "upper edges of its level ducts, once they are decided", default=()
    )
    upright_mm: tuple[float, ...] = key(
        "upright", "distances", "left edges of its upright ducts, once they are decided", default=()
    )
    fill_fraction: float | None = key(
        "fill", "number:share", "share of a duct that wires may fill; left out: as the site's rules say"
    )
    slack_fraction: float = key(
        "slack",
        "number:share",
        "added to each way along the plate",
        default=0.1,
        assumed="10 % of slack",
        bounds="0..1",
    )
    stream_mm: tuple[float, float] | None = key(
        "air stream", "stretch", "where air rises from vent to fan, from the left; left out: hot parts stand high"
    )
    mains_at_mm: Spot | None = key(
        "mains at", "spot", "upper left corner of the part of the plate that is for mains voltage"
    )
    mains_size_mm: tuple[float, float] | None = key("mains size", "area", "width and height of that part of the plate")
    mains_apart_mm: float = key(
        "mains apart",
        "millimetres",
        "least gap from mains to extra-low voltage",
        default=50.0,
        assumed="50 mm from mains",
        bounds="0 or more",
    )
    mounts: Mapping[str, Mount] = field(default_factory=dict)
    entries: Mapping[str, Entry] = field(default_factory=dict)
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)
