"""Solve a network in one corner or in many. The compiled program is kept per topology."""

from collections.abc import Iterable

from .elements import Corner, Network, OperatingPoint
from .emit import Program, compile_program
from .modes import operating_point
from .reach import Reach
from .settle import Case

MOST_KEPT = 16

_by_identity: dict[int, tuple[Network, Program, dict[tuple[object, ...], Reach]]] = {}
_by_shape: dict[tuple[object, ...], Program] = {}


def solve(network: Network, corner: Corner) -> OperatingPoint:
    """The operating point of one corner."""
    return operating_point(prepare(network, corner))


def solve_all(network: Network, corners: Iterable[Corner]) -> tuple[OperatingPoint, ...]:
    """The operating points of several corners, in their order."""
    return tuple([operating_point(prepare(network, corner)) for corner in corners])


def prepare(network: Network, corner: Corner) -> Case:
    """A corner together with the compiled program of its network."""
    known = _by_identity.get(id(network))
    if known is None or known[0] is not network:
        if len(_by_identity) >= MOST_KEPT:
            _by_identity.pop(next(iter(_by_identity)))
        known = _by_identity[id(network)] = (network, program_of(network), {})
    return Case(network, known[1], corner, known[2])


def program_of(network: Network) -> Program:
    """The compiled program of a topology; names do not matter."""
    shape = _shape(network)
    program = _by_shape.get(shape)
    if program is None:
        if len(_by_shape) >= MOST_KEPT:
            _by_shape.pop(next(iter(_by_shape)))
        program = _by_shape[shape] = compile_program(network)
    return program


def _shape(network: Network) -> tuple[object, ...]:
    return (
        len(network.nodes),
        tuple([(b.start, b.end) for b in network.branches]),
        tuple([(s.positive, s.negative) for s in network.sources]),
        tuple([(p.positive, p.negative) for p in network.loads]),
        tuple([(c.input_positive, c.input_negative, c.output_positive, c.output_negative) for c in network.converters]),
        tuple([(f.positive, f.negative) for f in network.feeds]),
    )
