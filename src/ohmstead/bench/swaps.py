"""Two circuits of a block swapped: the fuse and the way of one carry the cable of the other.

Such a mistake moves no parameter; the readings belong to other points and other fuses. Only pairs are tried whose
currents look like each other's.
"""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from ..network.compile import compile_site
from ..network.corner import figures
from ..site.kinds import Distribution
from ..site.model import Run
from .observation import Observation, renamed
from .points import Point
from .situation import Bench, bench_of
from .suspects import ODDS, suspects_of
from .watched import Floats, stacked, watch
from .weigh import Ground, State, ground_of, weigh

MOST_PAIRS, MANY_PAIRS = 3, 12
CLEAR = 4.0  # deviations from which a current asks for an explanation
AT_THE_WAY = ("near +", "near -", "holder", "fuse")


def swapped_roots(root: State) -> Iterator[State]:
    """The site with two circuits swapped, for every pair whose currents clearly look like each other's."""
    for a, b in _pairs(root, CLEAR)[:MOST_PAIRS]:
        yield weigh(_swapped(root.ground, a, b), ())


def other_roots(root: State, n_pair: int) -> list[State]:
    """The best of all swaps, however little the currents differ; for readings that nothing else explains."""
    tried = [weigh(_swapped(root.ground, a, b), ()) for a, b in _pairs(root, 0.0)[:n_pair]]
    return sorted(tried, key=lambda s: -s.log_weight)[:2]


def _pairs(root: State, clear: float) -> list[tuple[Run, Run]]:
    """Pairs of ways of a block whose currents are `clear` deviations off, the most promising first."""
    watched = root.ground.watched
    sigma = np.sqrt(np.diag(root.inner.covariance))
    y0, slopes = stacked(watched, root.blocks)
    expected = y0 + slopes @ root.ground.centre
    at: dict[str, list[int]] = {}
    for i, o in enumerate(watched.observations):
        if o.point.quantity == "current":
            at.setdefault(o.point.at, []).append(i)
    ways = [run for run in _way_runs(watched.bench) if run.name in at]
    scored = []
    for k, a in enumerate(ways):
        for b in ways[k + 1 :]:
            if a.start.part != b.start.part:
                continue
            both = ((at[a.name], at[b.name]), (at[b.name], at[a.name]))
            gains = [_gain(watched.value - expected, expected, sigma, rows, clear) for rows in both]
            if min(gains) > clear**2 or not clear:
                scored.append((sum(gains), (a, b)))
    scored.sort(key=lambda entry: -entry[0])
    return [pair for _, pair in scored]


def _gain(off: Floats, expected: Floats, sigma: Floats, rows: tuple[list[int], list[int]], clear: float) -> float:
    """How much closer the currents at one way come to what the other's cable draws; rows that fit count nothing."""
    own, other = rows
    gain = 0.0
    for i in own:
        value = off[i] + expected[i]
        theirs = min((float(expected[k]) for k in other), key=lambda a: abs(a - value))
        spread = sigma[i] + 0.15 * abs(theirs)
        if abs(off[i]) > clear * sigma[i]:
            gain += min(abs(off[i]) / sigma[i], 30.0) ** 2 - min(abs(value - theirs) / spread, 30.0) ** 2
    return gain


def _way_runs(bench: Bench) -> list[Run]:
    parts = bench.operation.site.parts
    runs = [r.run for r in bench.runs.values()]
    return [r for r in runs if r.start.way is not None and isinstance(parts.get(r.start.part), Distribution)]


def _swapped(ground: Ground, a: Run, b: Run) -> Ground:
    """The same readings taken for the supply in which the two circuits stand at each other's way."""
    watched = ground.watched
    bench = _rewired(watched.bench, a, b)
    name = {n: bench.runs[n].run.name for n in (a.number, b.number)}
    at_way = {a.name: name[b.number], b.name: name[a.number]}
    at_cable = {a.name: name[a.number], b.name: name[b.number]}
    fuse = {a.number: b.number, b.number: a.number}

    def moved(observation: Observation) -> Observation:
        point, situation = observation.point, observation.situation
        new = at_way if _sits_at_way(point) else at_cable
        opened = frozenset(fuse.get(number, number) for number in situation.opened)
        return renamed(observation, _at(point, new), replace(situation, opened=opened))

    seen = watch(bench, [moved(o) for o in watched.observations])
    suspects = suspects_of(bench, [float(v) for v in watched.value])
    again = ground_of(seen, suspects)
    return replace(again, name=f"{a.name} | {b.name}", log_odds=float(np.log(ODDS["swap"])))


def _sits_at_way(point: Point) -> bool:
    return point.quantity == "current" or (point.quantity == "drop" and point.place in AT_THE_WAY)


def _at(point: Point, new: dict[str, str]) -> Point:
    return replace(point, at=new.get(point.at, point.at)) if point.quantity != "voltage" else point


def _rewired(bench: Bench, a: Run, b: Run) -> Bench:
    """The bench of the swapped supply: what belongs to a way stays with it, what belongs to a cable goes along."""

    def placed(run: Run, other: Run) -> Run:
        ends = (*other.ends[:1], *run.ends[1:]) if run.ends and other.ends else run.ends
        return replace(
            run, start=other.start, fuse=other.fuse, fuse_at_m=other.fuse_at_m, holder_a=other.holder_a, ends=ends
        )

    runs = tuple([placed(r, b) if r.number == a.number else placed(r, a) if r.number == b.number else r
                  for r in bench.operation.site.runs])  # fmt: skip
    site = replace(bench.operation.site, runs=runs)
    circuit = compile_site(site)
    operation = replace(bench.operation, site=site, circuit=circuit, known=figures(circuit))
    return bench_of(operation, bench.surroundings, bench.meter)
