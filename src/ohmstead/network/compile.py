"""A site becomes a network: nodes, branches, loads, converters, and the way back to their names."""

from collections.abc import Mapping

from ..plan.lengths import planned
from ..site.kinds import Charger, Converter, Device, Disconnect, EthernetSource, Switch
from ..site.model import Site
from ..site.record import record
from .elements import Branch, Feed, Load, Network, Source
from .elements import Converter as ConverterElement
from .path import Path, path_of
from .points import TWO_SIDED, Map, end_point, map_site, power_runs, start_point


@record(frozen=True)
class Circuit:
    """A compiled site: the network, and where each name of the site went in it."""

    site: Site
    map: Map
    network: Network
    positive: Mapping[str, int]  # point -> node
    negative: Mapping[str, int]
    paths: Mapping[int, Path]  # run number -> its resistances
    run_branches: Mapping[int, tuple[int, ...]]  # run number -> branches (one, or positive and negative)
    inner_branch: Mapping[str, int]  # switch or disconnect -> branch
    source_of: Mapping[str, int]
    load_of: Mapping[str, int]
    converter_of: Mapping[str, int]
    feed_of: Mapping[str, int]
    returns: str  # "lumped": loop resistance in one branch; "apart": both conductors modelled


def compile_site(site: Site) -> Circuit:
    """Compile a site. Returns are kept apart as soon as one run holds a single conductor. Raises SiteError."""
    site = planned(site)
    paths = {run.number: path_of(site, run) for run in power_runs(site)}
    found = map_site(site, paths)
    apart = any(run.wires != "both" for run in power_runs(site))
    nodes, positive, negative = _nodes(site, found, apart)
    sources = tuple(Source(name, positive[name], negative[name]) for name in site.batteries)
    feeds = tuple(Feed(n, positive[n], negative[n]) for n, p in site.parts.items() if isinstance(p, Charger))
    branches, run_branches, inner = _branches(site, positive, negative, apart)
    loads = _loads(site, positive, negative)
    converters = _converters(site, positive, negative)
    network = Network(tuple(nodes), tuple(branches), sources, loads, converters, feeds)
    return Circuit(
        site,
        found,
        network,
        positive,
        negative,
        paths,
        run_branches,
        inner,
        {s.name: i for i, s in enumerate(sources)},
        {load.name: i for i, load in enumerate(loads)},
        {c.name: i for i, c in enumerate(converters)},
        {f.name: i for i, f in enumerate(feeds)},
        "apart" if apart else "lumped",
    )


def _nodes(site: Site, found: Map, apart: bool) -> tuple[list[str], dict[str, int], dict[str, int]]:
    nodes = ["negative"]
    positive: dict[str, int] = {}
    negative: dict[str, int] = {}
    reference = next(iter(site.batteries), None)
    for point in found.points:
        positive[point] = len(nodes)
        nodes.append(point)
        if not apart or point == reference or _isolated_output(site, point):
            negative[point] = 0
            continue
        joined = _other_side(site, point)
        if joined is not None and joined in negative:
            negative[point] = negative[joined]
        else:
            negative[point] = len(nodes)
            nodes.append(f"{point} negative")
    return nodes, positive, negative


def _isolated_output(site: Site, point: str) -> bool:
    part = site.parts.get(point.removesuffix(" out"))
    return point.endswith(" out") and isinstance(part, Converter) and part.isolated == "yes"


def _other_side(site: Site, point: str) -> str | None:
    """The input point whose negative an output shares: one piece of metal runs through the part."""
    name = point.removesuffix(" out")
    return f"{name} in" if point.endswith(" out") and isinstance(site.parts.get(name), TWO_SIDED) else None


def _branches(
    site: Site, positive: Mapping[str, int], negative: Mapping[str, int], apart: bool
) -> tuple[list[Branch], dict[int, tuple[int, ...]], dict[str, int]]:
    branches: list[Branch] = []
    by_run: dict[int, tuple[int, ...]] = {}
    for run in power_runs(site):
        a, b = start_point(site, run.start), end_point(site, run.end)
        first = len(branches)
        if run.wires in ("both", "positive"):
            branches.append(Branch(run.name, positive[a], positive[b]))
        if apart and run.wires in ("both", "negative") and negative[a] != negative[b]:
            branches.append(Branch(f"{run.name} return", negative[b], negative[a]))
        by_run[run.number] = tuple(range(first, len(branches)))
    inner: dict[str, int] = {}
    for name, part in site.parts.items():
        passes = isinstance(part, EthernetSource) and part.output_v is None
        if isinstance(part, Switch | Disconnect) or passes:
            inner[name] = len(branches)
            branches.append(Branch(name, positive[f"{name} in"], positive[f"{name} out"]))
    return branches, by_run, inner


def _loads(site: Site, positive: Mapping[str, int], negative: Mapping[str, int]) -> tuple[Load, ...]:
    loads = []
    for name, part in site.parts.items():
        if isinstance(part, Device):
            loads.append(Load(name, positive[name], negative[name]))
        elif isinstance(part, Disconnect | EthernetSource):
            loads.append(Load(name, positive[f"{name} in"], negative[f"{name} in"]))
    return tuple(loads)


def _converters(site: Site, positive: Mapping[str, int], negative: Mapping[str, int]) -> tuple[ConverterElement, ...]:
    found = []
    for name, part in site.parts.items():
        makes_own = isinstance(part, EthernetSource) and part.output_v is not None
        if isinstance(part, Converter) or makes_own:
            kind = part.type if isinstance(part, Converter) else "buck-boost"
            a, b = f"{name} in", f"{name} out"
            found.append(ConverterElement(name, kind, positive[a], negative[a], positive[b], negative[b]))
    return tuple(found)
