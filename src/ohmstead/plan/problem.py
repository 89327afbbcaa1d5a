"""What has to be placed: the bodies of a site's plate, its cords, and where cords leave."""

from collections.abc import Mapping

from ..plate.box import SIDES, Box, Spot, at
from ..site.kinds import Charger, Distribution, EthernetSource, Part
from ..site.model import Battery, Run, Site
from ..site.plates import Mount, Plate
from ..site.record import record
from .body import Body, Room, Terminal
from .cords import Cord, cord_of
from .sizes import Usual, heat_w, usual_of

GRID_MM = 5  # places are found on a grid of this
NEAR_MM = 100.0  # how near to a stated height a place must be found
BANDS = {"high": (0.0, 0.5), "middle": (0.25, 0.75), "low": (0.5, 1.0)}  # shares of the plate, from above
ENTRY = "lower edge"  # where cables enter when the file does not say


@record(frozen=True)
class End:
    """One end of a cord: at a body's terminal, or at one of several entries."""

    body: str
    terminal: Terminal | None
    entries: tuple[str, ...] = ()


@record(frozen=True)
class Link:
    """A cord with its two ends on the plate, source end first."""

    cord: Cord
    ends: tuple[End, End]


@record(frozen=True)
class Problem:
    """Everything that decides where things stand. Millimetres from the upper left corner of the plate."""

    plate: Plate
    inner: Box
    bodies: Mapping[str, Body]
    links: tuple[Link, ...]
    entries: Mapping[str, Spot]
    grid: int = GRID_MM

    @property
    def mains(self) -> Box | None:
        """The part of the plate that is for mains voltage."""
        if self.plate.mains_at_mm is None or self.plate.mains_size_mm is None:
            return None
        return at(self.plate.mains_at_mm, *self.plate.mains_size_mm)


def on_plate(site: Site) -> dict[str, Part | Battery]:
    """Parts and batteries that stand on the plate, in the order of the file."""
    plate = site.plate
    if plate is None:
        return {}
    found: dict[str, Part | Battery] = {}
    things: dict[str, Part | Battery] = {**site.batteries, **site.parts}
    for name, thing in things.items():
        mount = plate.mounts.get(name)
        here = thing.zone == plate.zone and bool(plate.zone) and not isinstance(thing, Battery)
        if mount is not None and mount.stands != "elsewhere" or mount is None and here:
            found[name] = thing
    return found


def problem_of(site: Site) -> Problem:
    """The problem of a site's plate. Raises ValueError when it has none."""
    plate = site.plate
    if plate is None:
        raise ValueError("this site has no plate")
    things = on_plate(site)
    joined: dict[str, list[tuple[Run, str]]] = {name: [] for name in things}
    for run in site.runs:
        for which, end in (("start", run.start), ("end", run.end)):
            if end.part in joined:
                joined[end.part].append((run, which))
    deepest = _depths(things, plate)
    bodies = {
        name: _body(
            name, thing, plate, joined[name], max([d for other, d in deepest.items() if other != name] or [0.0])
        )
        for name, thing in things.items()
    }
    entries = {name: entry.at_mm for name, entry in plate.entries.items()}
    if not entries:
        entries = {ENTRY: (round(plate.size_mm[0] / 2), plate.size_mm[1])}
    inner = Box(0.0, 0.0, *plate.size_mm).shrunk(plate.edge_mm)
    return Problem(plate, inner, bodies, tuple(_links(site, bodies, plate, entries)), entries)


def _depths(things: Mapping[str, Part | Battery], plate: Plate) -> dict[str, float]:
    found = {}
    for name, thing in things.items():
        mount = plate.mounts.get(name)
        found[name] = mount.size_mm[2] if mount and mount.size_mm else float(usual_of(thing)["depth_mm"])
    return found


def _links(site: Site, bodies: Mapping[str, Body], plate: Plate, entries: Mapping[str, Spot]) -> list[Link]:
    beyond = {name: entry for entry, held in plate.entries.items() for name in held.for_}
    free = tuple(name for name, held in plate.entries.items() if not held.for_) or tuple(entries)
    found = []
    for run in site.runs:
        ends = []
        for which, end in (("start", run.start), ("end", run.end)):
            body = bodies.get(end.part)
            if body is not None:
                ends.append(End(end.part, body.terminals[run.number, which]))
            else:
                ends.append(End("", None, (beyond[end.part],) if end.part in beyond else free))
        if ends[0].body or ends[1].body:
            found.append(Link(cord_of(run), (ends[0], ends[1])))
    return found


def _body(name: str, thing: Part | Battery, plate: Plate, joined: list[tuple[Run, str]], deepest: float) -> Body:
    mount, usual = plate.mounts.get(name), usual_of(thing)
    assumed = []
    if mount is not None and mount.size_mm is not None:
        width, height, depth = mount.size_mm
    else:
        width, height, depth = (float(usual[key]) for key in ("width_mm", "height_mm", "depth_mm"))
        assumed.append("size")
    holes = _holes(mount, usual, width, height)
    if mount is None or mount.holes_mm is None:
        assumed.append("holes")
    hole = mount.hole_mm if mount is not None and mount.hole_mm is not None else None
    sides = {
        "end": (mount.input_side if mount else "") or str(usual["into"]),
        "start": (mount.output_side if mount else "") or str(usual["out"]),
    }
    if mount is None or not mount.input_side or not mount.output_side:
        assumed.append("sides")
    unsaid = {"hands": "hands_mm", "air": "air_mm", "lights": "lights"}
    assumed += [word for word, key in unsaid.items() if mount is None or getattr(mount, key) in (None, "")]
    terminals = _terminals(thing, joined, sides, (width, height))
    plug = _stated(mount, "plug_mm", usual)
    lights = (mount.lights if mount else "") or str(usual["lights"])
    cords = [(run, which, cord_of(run)) for run, which in joined]
    turned = mount.turned_deg if mount is not None else None
    return Body(
        name=name,
        place=mount.place if mount is not None else thing.place,
        width=width,
        height=height,
        depth=depth,
        holes=holes,
        hole=hole if hole is not None else float(usual["hole_mm"]),
        wants={
            "gap": dict.fromkeys(SIDES, plate.apart_mm),
            "hands": dict.fromkeys(
                {terminal.side for terminal in terminals.values()}, _stated(mount, "hands_mm", usual)
            ),
            "air": dict.fromkeys(("top", "bottom"), _stated(mount, "air_mm", usual)),
            "bends": _bends(cords, terminals, plug, plate, mount),
            "lights": _lights(lights, depth, deepest),
        },
        terminals=terminals,
        plug=plug,
        lights=lights,
        heat_w=heat_w(thing, mount),
        mains=_mains(thing, mount),
        band=band_of(thing, plate),
        bend=(mount.bend_times if mount is not None else None) or 0.0,
        fixed=mount.at_mm if mount is not None else None,
        turns=_turns(mount, turned),
        assumed=tuple(assumed),
    )


def band_of(thing: Part | Battery, plate: Plate) -> Spot | None:
    """Where the middle of a part may be, measured down, when the file says that it sits high, low or at a height."""
    at = getattr(thing, "at", None)
    if at is None:
        return None
    high = plate.size_mm[1]
    if at.height_m is not None:
        down = high - 1000 * at.height_m
        return max(0.0, down - NEAR_MM), min(high, down + NEAR_MM)
    low, far = BANDS[at.word]
    return low * high, far * high


def _stated(mount: Mount | None, attribute: str, usual: Usual) -> float:
    value = getattr(mount, attribute) if mount is not None else None
    return float(usual[attribute]) if value is None else float(value)


def _turns(mount: Mount | None, turned_deg: float | None) -> tuple[int, ...]:
    if mount is not None and mount.may_turn == "yes" and turned_deg is None and mount.at_mm is None:
        return (0, 1, 2, 3)
    return (round((turned_deg or 0.0) / 90),)


def _holes(mount: Mount | None, usual: Usual, width: float, height: float) -> tuple[Spot, ...]:
    """Holes from the upper left corner; a pattern stands in the middle, and a pattern of no height is two holes."""
    written = mount.holes_mm if mount is not None else None
    if written is None:
        written = ((-min(float(usual["holes_mm"]), width), -min(float(usual["rise_mm"]), height)),)
    if len(written) != 1 or written[0][0] > 0 or written[0][1] > 0 or written[0] == (0.0, 0.0):
        return written
    wide, high = -written[0][0], -written[0][1]
    xs = (width / 2 - wide / 2, width / 2 + wide / 2) if wide else (width / 2,)
    ys = (height / 2 - high / 2, height / 2 + high / 2) if high else (height / 2,)
    return tuple((x, y) for y in ys for x in xs)


def _mains(thing: Part | Battery, mount: Mount | None) -> str:
    if mount is not None and mount.mains:
        return mount.mains
    return "yes" if isinstance(thing, Charger) and thing.supply in ("mains", "generator") else "no"


def _terminals(
    thing: Part | Battery, joined: list[tuple[Run, str]], sides: Mapping[str, str], size: Spot
) -> dict[tuple[int, str], Terminal]:
    """Ways stand along their side by number, other ends evenly in the order of the file."""
    ways = thing.ways if isinstance(thing, Distribution) else thing.ports if isinstance(thing, EthernetSource) else None
    found = {}
    for side in dict.fromkeys(sides.values()):
        here = [(run, which) for run, which in joined if sides[which] == side]
        plain = [pair for pair in here if _way(pair) is None or not ways]
        for run, which in here:
            way = _way((run, which))
            if way is not None and ways:
                share = (way - 0.5) / max(ways, way)
            else:
                share = (plain.index((run, which)) + 0.5) / len(plain)
            found[run.number, which] = Terminal(_along(side, share, size), side)
    return found


def _way(pair: tuple[Run, str]) -> int | None:
    run, which = pair
    return run.start.way if which == "start" else run.end.way


def _along(side: str, share: float, size: Spot) -> Spot:
    width, height = size
    return {
        "top": (share * width, 0.0),
        "bottom": (share * width, height),
        "left": (0.0, share * height),
        "right": (width, share * height),
        "front": (share * width, height / 2),
    }[side]


def _bends(
    cords: list[tuple[Run, str, Cord]],
    terminals: Mapping[tuple[int, str], Terminal],
    plug: float,
    plate: Plate,
    mount: Mount | None,
) -> Room:
    """Free before each side, so that what comes out of it can bend into the duct before it."""
    found: dict[str, float] = {}
    duct = plate.ducts_mm[0] - 2.0 if plate.ducts_mm else 0.0
    for run, which, cord in cords:
        side = terminals[run.number, which].side
        times = mount.bend_times if mount is not None and mount.bend_times is not None else cord.bend_times
        room = plug + (times + 1) * cord.diameter_mm - duct
        found[side] = max(found.get(side, 0.0), room)
    return found


def _lights(side: str, depth: float, deepest: float) -> Room:
    """A light at half the depth of its side is seen at 45° over the deepest other part; on the front it always is."""
    return {side: max(0.0, deepest - depth / 2)} if side in SIDES else {}
