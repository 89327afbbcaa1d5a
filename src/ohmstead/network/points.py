"""Where current can go: points, what joins them, and which way the energy comes from.

A point is a part's two-wire terminal pair. Parts that pass current have one point ("block", "busbar",
battery, charger, device); switches, disconnects and converters have an input and an output. Converters
and Ethernet sources stop the search: what lies behind them is an island of its own, fed by them.
"""

from collections import deque
from dataclasses import field

from ..site.kinds import Converter, Disconnect, Distribution, EthernetSource, Switch
from ..site.model import Run, Site
from ..site.pieces import Endpoint
from ..site.record import record

TWO_SIDED = (Switch, Disconnect, Converter, EthernetSource)
STRONG = ("battery", "converter", "ethernet power source", "charger")


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
    distance: dict[str, int]
    ways: tuple[Way, ...]
    inner: tuple[tuple[str, str], ...]  # closed switches and disconnects: input point, output point
    upstream: dict[int, tuple[int, ...]] = field(default_factory=dict)  # run number -> runs towards the source


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


def map_site(site: Site) -> Map:
    """Find every point, the island it belongs to, and the direction of energy in every run."""
    points, inner = _points(site)
    links: dict[str, list[tuple[str, Run | None]]] = {point: [] for point in points}
    for run in power_runs(site):
        if run.wires == "negative":  # a lone return feeds nothing and protects nothing
            continue
        a, b = start_point(site, run.start), end_point(site, run.end)
        links[a].append((b, run))
        links[b].append((a, run))
    for a, b in inner:
        links[a].append((b, None))
        links[b].append((a, None))
    feeder, distance, parent = _search(site, points, links)
    ways = tuple(_way(site, run, distance) for run in power_runs(site))
    upstream = {way.run.number: _towards(way, parent) for way in ways}
    return Map(tuple(points), feeder, distance, ways, tuple(inner), upstream)


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


def _search(site: Site, points: list[str], links: dict[str, list[tuple[str, Run | None]]]
            ) -> tuple[dict[str, Feeder], dict[str, int], dict[str, tuple[str, int | None]]]:
    """Breadth first from the strongest sources; a later, weaker source never takes over a point."""
    feeder: dict[str, Feeder] = {}
    distance: dict[str, int] = {}
    parent: dict[str, tuple[str, int | None]] = {}
    seeds = _seeds(site)
    for strength in STRONG:
        queue = deque((point, who) for point, who in seeds if who.kind == strength and point not in feeder)
        for point, who in queue:
            feeder[point], distance[point] = who, 0
        while queue:
            point, who = queue.popleft()
            for other, run in links[point]:
                if other not in feeder:
                    feeder[other], distance[other] = who, distance[point] + 1
                    parent[other] = (point, run.number if run else None)
                    queue.append((other, who))
    for point in points:
        feeder.setdefault(point, Feeder("", "nothing"))
        distance.setdefault(point, 10_000)
    return feeder, distance, parent


def _way(site: Site, run: Run, distance: dict[str, int]) -> Way:
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
