"""The loading margin: by how much the constant-power loads may grow before the supply collapses."""

from dataclasses import dataclass

from .elements import Corner, Network
from .nose import MOST_FACTOR, climb, weakest
from .solve import prepare
from .state import first_state

TOLERANCE = 1e-7


@dataclass(frozen=True, slots=True)
class Margin:
    """`factor` on all constant-power loads at the nose; `element` gives way there, at `voltage_v`.

    Factor infinity and no element where nothing gives way however large the loads. A factor under 1 means
    that the corner as it stands has no operating point.
    """

    factor: float
    element: str
    voltage_v: float


def loading_margin(network: Network, corner: Corner) -> Margin:
    """Follow the operating point to the nose of the P-V curve.

    Cut-off and lock-out voltages are left aside, they are found by `solve`: the question here is how far
    the loads are from having no operating point at all. Current limits of converters count.
    """
    case = prepare(network, corner)
    nose = climb(case, first_state(corner), MOST_FACTOR, TOLERANCE)
    if nose.beyond is None:
        return Margin(float("inf"), "", 0.0)
    worst = weakest(case, nose)
    if worst is None:
        return Margin(nose.factor, "", 0.0)
    owner = network.loads if worst.kind == "load" else network.converters
    return Margin(nose.factor, owner[worst.index].name, worst.voltage_v)
