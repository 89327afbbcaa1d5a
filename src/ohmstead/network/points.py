"""Where current can go: points, what joins them, and which way the energy comes from.

A point is a part's two-wire terminal pair. Parts that pass current have one point ("block", "busbar",
battery, charger, device); switches, disconnects and converters have an input and an output. Converters
and Ethernet sources stop the search: what lies behind them is an island of its own, fed by them.
"""

from collections.abc import Mapping
from dataclasses import field
from heapq import heappop, heappush

from ..site.kinds import Converter, Disconnect, Distribution, EthernetSource, Switch
from ..site.model import Run, Site
from ..site.pieces import Endpoint
from ..site.record import record
from .path import Path, path_of

TWO_SIDED = (Switch, Disconnect, Converter, EthernetSource)
STRONG = ("battery", "converter", "ethernet power source", "charger")
Links = dict[str, list[tuple[float, str, Run | None]]]  # point -> resistance, other point, the run between


@record(frozen=True)
class Feeder:
    """What feeds an island first, and how strong it is. kind is one of STRONG or "nothing"."""

    name: str
    kind: str


@record(frozen=True)
class Way:
    """A run as the energy sees it: from the point nearer the source to the one farther away."""

    run: Run
    near: str
    far: str
    turned: bool  # written the other way round than the energy flows

    @property
    def near_end(self) -> Endpoint:
        """The end nearer the source."""
        return self.run.end if self.turned else self.run.start

    @property
    def far_end(self) -> Endpoint:
        """The end farther from it."""
        return self.run.start if self.turned else self.run.end


@record(frozen=True)
class Map:
    """Points, their feeders, and the runs turned into the direction of energy."""

    points: tuple[str, ...]
    feeder: dict[str, Feeder]
    distance: dict[str, float]  # resistance on the way from the feeder [Ω]; infinite where none reaches
    ways: tuple[Way, ...]
    inner: tuple[tuple[str, str], ...]  # closed switches and disconnects: input point, output point
    upstream: dict[int, tuple[int, ...]] = field(default_factory=dict)  # run number -> runs towards the source
    supply: dict[str, int] = field(default_factory=dict)  # point -> number of the run that brings its power


def start_point(site: Site, end: Endpoint) -> str:
    """The point that a run leaves from."""
    part = site.parts.get(end.part)
    return f"{end.part} out" if isinstance(part, TWO_SIDED) else end.part


def end_point(site: Site, end: Endpoint) -> str:
    """The point that a run arrives at."""
    part = site.parts.get(end.part)
    return f"{end.part} in" if isinstance(part, TWO_SIDED) else end.part


def power_runs(site: Site) -> list[Run]:
    """The runs that feed something."""
    return [run for run in site.runs if run.carries == "power"]


def map_site(site: Site, paths: Mapping[int, Path] | None = None) -> Map:
    """Find every point, the island it belongs to, and the direction of energy in every run.

    `paths` are the resistances of the power runs by number, where they are known already.
    """
    points, inner = _points(site)
    runs = power_runs(site)
    known = paths or {run.number: path_of(site, run) for run in runs}
    links: Links = {point: [] for point in points}
    for run in runs:
        if run.wires == "negative":  # a lone return feeds nothing and protects nothing
            continue
        a, b = start_point(site, run.start), end_point(site, run.end)
        ohm = known[run.number].most_ohm(known[run.number].air.high)
        links[a].append((ohm, b, run))
        links[b].append((ohm, a, run))
    for a, b in inner:
        links[a].append((0.0, b, None))
        links[b].append((0.0, a, None))
    feeder, distance, parent = _search(site, points, links)
    ways = tuple(_way(site, run, distance) for run in runs)
    upstream = {way.run.number: _towards(way, parent) for way in ways}
    supply = {point: number for point, (_, number) in parent.items() if number is not None}
    return Map(tuple(points), feeder, distance, ways, tuple(inner), upstream, supply)


def _points(site: Site) -> tuple[list[str], list[tuple[str, str]]]:
    points = list(site.batteries)
    inner: list[tuple[str, str]] = []
    for name, part in site.parts.items():
        if isinstance(part, TWO_SIDED):
            points += [f"{name} in", f"{name} out"]
            closed = isinstance(part, Disconnect) or (isinstance(part, Switch) and part.set_to == "closed")
            if closed:
                inner.append((f"{name} in", f"{name} out"))
        else:
            points.append(name)
    return points, inner


def _seeds(site: Site) -> list[tuple[str, Feeder]]:
    seeds = [(name, Feeder(name, "battery")) for name in site.batteries]
    for kind in STRONG[1:]:
        for name, part in site.parts.items():
            if getattr(part, "kind", "") == kind:
                point = name if kind == "charger" else f"{name} out"
                seeds.append((point, Feeder(name, kind)))
    return seeds


def _search(
    site: Site, points: list[str], links: Links
) -> tuple[dict[str, Feeder], dict[str, float], dict[str, tuple[str, int | None]]]:
    """From the strongest sources along the least resistance; a later, weaker source never takes over a point.

    Where two ways are alike, names decide, so that the order of the file does not matter.
    """
    feeder: dict[str, Feeder] = {}
    distance: dict[str, float] = {}
    parent: dict[str, tuple[str, int | None]] = {}
    seeds = _seeds(site)
    for strength in STRONG:
        heap: list[tuple[float, str, str, str, str, int]] = []
        owners = {who.name: who for _, who in seeds if who.kind == strength}
        for point, who in seeds:
            if who.kind == strength and point not in feeder:
                heappush(heap, (0.0, who.name, point, "", "", 0))
        while heap:
            ohm, owner, point, _, before, number = heappop(heap)
            if point in feeder:
                continue
            feeder[point], distance[point] = owners[owner], ohm
            if before:
                parent[point] = (before, number or None)
            for more_ohm, other, run in links[point]:
                if other not in feeder:
                    name, of_run = (run.name, run.number) if run else ("", 0)
                    heappush(heap, (ohm + more_ohm, owner, other, name, point, of_run))
    for point in points:
        feeder.setdefault(point, Feeder("", "nothing"))
        distance.setdefault(point, float("inf"))
    return feeder, distance, parent


def _way(site: Site, run: Run, distance: dict[str, float]) -> Way:
    a, b = start_point(site, run.start), end_point(site, run.end)
    turned = distance[b] < distance[a]
    return Way(run, b if turned else a, a if turned else b, turned)


def _towards(way: Way, parent: dict[str, tuple[str, int | None]]) -> tuple[int, ...]:
    """Numbers of the runs between this one and its source, nearest first."""
    found: list[int] = []
    point = way.near
    while point in parent:
        point, number = parent[point]
        if number is not None and number != way.run.number:
            found.append(number)
    return tuple(found)


def ways_of_block(site: Site, block: str) -> list[Run]:
    """Runs that sit on numbered ways of a distribution block."""
    part = site.parts.get(block)
    if not isinstance(part, Distribution):
        return []
    return [r for r in power_runs(site) if any(e.part == block and e.way is not None for e in (r.start, r.end))]
