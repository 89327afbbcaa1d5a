"""Which reading would tell most: the expected gain of information about the explanations.

The gain is the mutual information between the reading and which explanation holds; under each explanation the
reading is normal. Source: Lindley 1956, On a measure of the information provided by an experiment, from memory.
"""

from collections.abc import Iterator, Sequence
from math import log, pi, sqrt

import numpy as np

from ..site.record import record
from .diagnosis import NextReading
from .points import Point
from .situation import Situation
from .watched import MODEL_FRACTION, Floats, block_of, key_of
from .weigh import Ground, State

MOST_STATES, MOST_READINGS = 6, 5
LEAST_FRACTION = 0.005
LEAST_BITS = 0.01
_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(15)


@record(frozen=True)
class Foreseen:
    """What candidates would read under one explanation: means and variances."""

    mean: Floats
    variance: Floats


def next_readings(states: Sequence[State], shares: Sequence[float]) -> tuple[NextReading, ...]:
    """Up to five readings that tell most, best first; none when one explanation stands alone."""
    pairs = [(s, p) for s, p in zip(states, shares, strict=True) if p > LEAST_FRACTION and not s.ground.name]
    pairs = pairs[:MOST_STATES]
    if len(pairs) < 2:
        return ()
    first = pairs[0][0].ground
    situation = _busiest(first)
    points = list(_candidates([s for s, _ in pairs], situation))
    if not points:
        return ()
    foreseen = [_foreseen(state, situation, points) for state, _ in pairs]
    weights = np.array([p for _, p in pairs]) / sum(p for _, p in pairs)
    bits = information_bits(weights, foreseen)
    order = [int(k) for k in np.argsort(-bits) if bits[k] > LEAST_BITS][:MOST_READINGS]
    place = {id(state): i for i, (state, _) in enumerate(pairs)}
    return tuple(
        NextReading(
            points[k],
            situation,
            float(bits[k]),
            tuple(float(foreseen[place[id(s)]].mean[k]) if id(s) in place else None for s in states),
        )
        for k in order
    )


def information_bits(weights: Floats, foreseen: Sequence[Foreseen]) -> Floats:
    """Mutual information of each candidate reading and the explanations, by Gauss-Hermite quadrature. [bit]

    >>> apart = [Foreseen(np.array([0.0]), np.array([1.0])), Foreseen(np.array([50.0]), np.array([1.0]))]
    >>> round(float(information_bits(np.array([0.5, 0.5]), apart)[0]), 6)
    1.0
    """
    mean = np.array([f.mean for f in foreseen])
    sigma = np.sqrt(np.array([f.variance for f in foreseen]))
    total = np.zeros(mean.shape[1])
    for h, weight in enumerate(weights):
        x = mean[h][:, None] + sigma[h][:, None] * _NODES[None, :]
        logs = -0.5 * ((x[None] - mean[:, :, None]) / sigma[:, :, None]) ** 2 - np.log(sigma[:, :, None])
        logs -= 0.5 * log(2.0 * pi)
        mixed = np.log(np.maximum(np.einsum("h,hcq->cq", weights, np.exp(logs)), 1e-300))
        total += weight * ((logs[h] - mixed) @ _WEIGHTS) / sqrt(2.0 * pi)
    return np.asarray(np.clip(total, 0.0, None) / log(2.0), dtype=np.float64)


def _busiest(ground: Ground) -> Situation:
    """The situation among the readings in which most is drawn, and so most is seen."""
    bench = ground.watched.bench

    def drawn_w(situation: Situation) -> float:
        names = [f"draw {state} of {device}" for device, state in situation.states.items()]
        draws_w = sum(bench.parameters[bench.at[name]].bounds.nominal for name in names if name in bench.at)
        return draws_w * (1.0 - len(situation.opened) / max(len(bench.runs), 1))

    return max(ground.watched.groups, key=lambda g: (drawn_w(g[0]), len(g[1])))[0]


def _candidates(states: Sequence[State], situation: Situation) -> Iterator[Point]:
    """What can still be read in a situation: voltages everywhere, currents and drops where a fault is suspected."""
    ground = states[0].ground
    bench = ground.watched.bench
    seen = {o.point.id for o in ground.watched.observations if key_of(o.situation) == key_of(situation)}
    subjects = {ground.suspects[f.suspect].subject for state in states for f in state.faults}
    for name in bench.circuit.map.points:
        point = Point("voltage", name)
        if point.id not in seen:
            yield point
    for run in bench.runs.values():
        if run.run.number in situation.opened or not run.branches:
            continue
        ends = {run.run.name, run.run.start.part, run.run.end.part}
        if ends & subjects:
            places = [Point("drop", run.run.name, place) for place in ("run", *run.places())]
            for point in (Point("current", run.run.name, method="amps"), *places):
                if point.id not in seen:
                    yield point


def _foreseen(state: State, situation: Situation, points: Sequence[Point]) -> Foreseen:
    ground, inner = state.ground, state.inner
    bench = ground.watched.bench
    block = block_of(bench, situation, tuple(range(len(points))), tuple(points), state.values)
    variance = ground.sigma**2
    for fault in state.faults:
        suspect = ground.suspects[fault.suspect]
        if suspect.column >= 0:
            variance[suspect.column] += suspect.variances[fault.size]
    across = block.slopes * variance
    together = inner.slopes @ across.T
    shrunk = np.linalg.solve(inner.covariance, together)
    spread = np.einsum("ij,ij->i", across, block.slopes) - np.einsum("ij,ij->j", together, shrunk)
    counts = np.array([bench.meter.function(p.method).counts(float(y)) for p, y in zip(points, block.y, strict=True)])
    noise = counts**2 / 3.0 + (MODEL_FRACTION * block.y) ** 2
    return Foreseen(block.y, np.maximum(spread, 0.0) + noise)
