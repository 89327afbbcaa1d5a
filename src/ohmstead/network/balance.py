"""Every current of a solved network from the elements' laws, and Kirchhoff's law checked with them.

Nothing here comes from the compiled program: this is the second look at its answer.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from .elements import Corner, Network
from .state import (
    LEAST_OHM,
    State,
    conductance,
    converter_currents_a,
    feed_current_a,
    load_current_a,
)


@dataclass(frozen=True, slots=True)
class Currents:
    """Currents in the order of the Network's tuples, positive from supply to load."""

    branch_a: list[float]
    source_a: list[float]
    load_a: list[float]
    converter_in_a: list[float]
    converter_out_a: list[float]
    feed_a: list[float]


def currents(
    network: Network, corner: Corner, state: State, voltage_v: Sequence[float], scale: float = 1.0
) -> Currents:
    """Currents by the elements' laws at the given node voltages."""
    v = voltage_v
    branch_a = [
        (v[b.start] - v[b.end]) / (r if r > LEAST_OHM else LEAST_OHM)
        for b, r in zip(network.branches, corner.branch_ohm, strict=True)
    ]
    source_a = [
        (emf_v - v[s.positive] + v[s.negative]) * conductance(r)
        for s, emf_v, r in zip(network.sources, corner.source_v, corner.source_ohm, strict=True)
    ]
    load_a = [
        load_current_a(law, mode, v[load.positive] - v[load.negative], scale)
        for load, law, mode in zip(network.loads, corner.loads, state.load, strict=True)
    ]
    both_a = [
        converter_currents_a(
            law, mode, v[c.input_positive] - v[c.input_negative], v[c.output_positive] - v[c.output_negative]
        )
        for c, law, mode in zip(network.converters, corner.converters, state.converter, strict=True)
    ]
    feed_a = [
        feed_current_a(law, mode, v[f.positive] - v[f.negative])
        for f, law, mode in zip(network.feeds, corner.feeds, state.feed, strict=True)
    ]
    return Currents(branch_a, source_a, load_a, [i for i, _ in both_a], [o for _, o in both_a], feed_a)


def node_currents(network: Network, flow: Currents) -> list[float]:
    """Sum of the currents leaving each node; zero where Kirchhoff's law holds."""
    total_a = [0.0] * len(network.nodes)
    for branch, a in zip(network.branches, flow.branch_a, strict=True):
        total_a[branch.start] += a
        total_a[branch.end] -= a
    for load, a in zip(network.loads, flow.load_a, strict=True):
        total_a[load.positive] += a
        total_a[load.negative] -= a
    for source, a in zip(network.sources, flow.source_a, strict=True):
        total_a[source.positive] -= a
        total_a[source.negative] += a
    for feed, a in zip(network.feeds, flow.feed_a, strict=True):
        total_a[feed.positive] -= a
        total_a[feed.negative] += a
    for c, taken_a, given_a in zip(network.converters, flow.converter_in_a, flow.converter_out_a, strict=True):
        total_a[c.input_positive] += taken_a
        total_a[c.input_negative] -= taken_a
        total_a[c.output_positive] -= given_a
        total_a[c.output_negative] += given_a
    return total_a


def residual_a(network: Network, flow: Currents) -> float:
    """The largest violation of Kirchhoff's current law, all nodes."""
    total_a = node_currents(network, flow)
    return max(max(total_a), -min(total_a))


def allowed_residual_a(flow: Currents) -> float:
    """What rounding may leave: a microampere, more only where very large currents meet."""
    largest_a = max([1.0, *map(abs, flow.branch_a), *map(abs, flow.source_a)])
    return 1e-6 + 1e-10 * largest_a
