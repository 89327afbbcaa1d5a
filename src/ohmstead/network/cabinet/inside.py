"""What stands in a cabinet, and how much of each run lies in it."""

from ...site.kinds import Part
from ...site.model import Battery, Run, Site
from ...site.pieces import Height
from ...site.record import record
from ..path import Path

TAIL_M = 0.3  # of a run that ends in the box and comes from outside; from gland to terminal, common practice
WORDS = {"low": 0.15, "middle": 0.5, "high": 0.85}  # share of the height of the box
WIRES = "wires"  # the gear that the heat of all wires inside is put on


@record(frozen=True)
class Inside:
    """Names in one cabinet with their heights, and the share of each run's resistance that lies in it.

    `deeper`: names in zones that lie inside this one, such as a box within the box. Their heat is in it too; the air
    at them is that of their own zone.
    """

    heights_m: dict[str, float]
    assumed: tuple[str, ...]  # names whose height nobody stated
    run_shares: dict[int, float]
    deeper: tuple[str, ...] = ()

    @property
    def own_m(self) -> dict[str, float]:
        """Heights of what stands in the air of this box. [m]"""
        return {name: height for name, height in self.heights_m.items() if name not in self.deeper}


def inside_of(site: Site, zone: str, paths: dict[int, Path]) -> Inside:
    """Everything in the box that makes the air of a zone."""
    box_m = site.cabinets[zone].size_mm[1] / 1000
    things: list[Part | Battery] = [*site.batteries.values(), *site.parts.values()]
    within = zones_within(site, zone)
    held = [thing for thing in things if thing.zone in within]
    drawn = on_plate_m(site, zone, box_m)
    heights = {}
    for thing in held:
        at = thing.at if thing.zone == zone else None
        heights[thing.name] = drawn[thing.name] if at is None and thing.name in drawn else height_m(at, box_m)
    assumed = tuple(thing.name for thing in held if thing.at is None and thing.name not in drawn)
    shares = {}
    for number, path in paths.items():
        share = share_inside(path, within, heights)
        if share > 0.0:
            shares[number] = share
    return Inside(heights, assumed, shares, tuple(thing.name for thing in held if thing.zone != zone))


def zones_within(site: Site, zone: str) -> frozenset[str]:
    """A zone and every zone that lies inside it."""
    found = {zone}
    grew = True
    while grew:
        more = {name for name, other in site.zones.items() if other.inside in found} - found
        grew = bool(more)
        found |= more
    return frozenset(found)


def on_plate_m(site: Site, zone: str, box_m: float) -> dict[str, float]:
    """Heights of the middles of parts that have a place on the mounting plate of the box, plate in its middle. [m]"""
    plate = site.plate
    if plate is None or plate.zone != zone:
        return {}
    found = {}
    for name, mount in plate.mounts.items():
        if mount.at_mm is not None:
            down_mm = mount.at_mm[1] + (mount.size_mm[1] / 2 if mount.size_mm else 0.0)
            found[name] = min(max(box_m / 2 + (plate.size_mm[1] / 2 - down_mm) / 1000, 0.0), box_m)
    return found


def height_m(at: Height | None, box_m: float) -> float:
    """Above the floor of the box; the middle when nobody says. [m]"""
    if at is None:
        return box_m * WORDS["middle"]
    return at.height_m if at.height_m is not None else box_m * WORDS[at.word]


def share_inside(path: Path, within: frozenset[str], heights_m: dict[str, float]) -> float:
    """Share of a run's resistance, and so of its heat, that lies in a box.

    A run between two things in the box is inside whole. One that leaves it has in it the joints of one end, its
    fuse when that sits at this end, and the tail up to the gland.
    """
    run = path.run
    ends = [end.part in heights_m for end in (run.start, run.end)]
    if run.zone:
        if run.zone in within:
            return 1.0
        if all(ends):
            return 0.0
    elif all(ends):
        return 1.0
    if not any(ends):
        return 0.0
    conductor, joints, fuse = path.conductor_ohm, path.joint_ohm, path.fuse_hot_ohm
    total = conductor + joints + fuse
    if total <= 0.0:
        return 0.0
    held = conductor * min(1.0, TAIL_M / run.length_m if run.length_m else 1.0) + joints / 2
    if _fuse_at_start(run) == ends[0]:
        held += fuse
    return min(1.0, held / total)


def _fuse_at_start(run: Run) -> bool:
    """True when the fuse of a run sits near its written start, or nobody says where."""
    return run.fuse_at_m is None or run.fuse_at_m <= run.length_m / 2
