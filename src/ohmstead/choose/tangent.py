"""How a voltage or a current of a solved case moves with each resistance: exact slopes at that point."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from ..network.elements import Corner, Network, OperatingPoint
from ..network.jacobian import jacobian
from ..network.solve import solve
from ..network.state import CONVERTER_MODES, FEED_MODES, OFF, ON, State, conductance
from ..site.record import record

SMALL = 0.05  # slopes this much smaller than the largest count as second thoughts of the supply
FAINT = 1e-4  # V or A: what a branch moves by its whole resistance; less is left out of a row
MANY_BRANCHES = 120  # in a larger supply rows would be full of second thoughts: they stay as last solved


@record(frozen=True)
class Tangent:
    """A figure at a point and its slope with each branch's resistance. [unit, unit/Ω]"""

    value: float
    slopes: Mapping[int, float]


class Bend:
    """One solved case, ready to give slopes."""

    def __init__(self, network: Network, corner: Corner, point: OperatingPoint) -> None:
        import numpy as np

        self.network, self.corner, self.point = network, corner, point
        n = len(network.nodes)
        matrix = np.zeros((n, n))
        for i, row in enumerate(jacobian(network, corner, _state(point), point.voltage_v)):
            for j, value in row.items():
                matrix[i, j] = value
        matrix[np.arange(n), np.arange(n)] += 1e-12
        matrix[0, 0] = 1.0
        self.inverse: Any = np.linalg.inv(matrix)
        self.inverse[0, :] = self.inverse[:, 0] = 0.0
        ohms = np.array([max(ohm, 1e-6) for ohm in corner.branch_ohm])
        self.ends = np.array([(b.start, b.end) for b in network.branches], dtype=int).reshape(-1, 2)
        self.ohms: Any = np.where(np.isfinite(ohms), ohms, 0.0)
        self.faint = FAINT if len(network.branches) <= MANY_BRANCHES else float("inf")
        self.drive: Any = np.array(point.branch_a) / ohms

    def voltage(self, positive: int, negative: int) -> Tangent:
        """Voltage between two nodes."""
        value = self.point.voltage_v[positive] - self.point.voltage_v[negative]
        return Tangent(value, self._kept(self._along(self.inverse[positive] - self.inverse[negative])))

    def current(self, branch: int) -> Tangent:
        """Magnitude of the current in a branch."""
        start, end = self.ends[branch]
        amps = self.point.branch_a[branch]
        sign = 1.0 if amps >= 0 else -1.0
        g = conductance(self.corner.branch_ohm[branch])
        slopes = sign * g * self._along(self.inverse[start] - self.inverse[end])
        slopes[branch] -= sign * amps * g
        return Tangent(abs(amps), self._kept(slopes))

    def _along(self, pull: Any) -> Any:
        return (pull[self.ends[:, 0]] - pull[self.ends[:, 1]]) * self.drive

    def _kept(self, slopes: Any) -> dict[int, float]:
        import numpy as np

        size = np.abs(slopes)
        most = float(np.max(size, initial=0.0))
        kept = (size > max(SMALL * most, 1e-9)) | (size * self.ohms > self.faint)
        return {int(b): float(slopes[b]) for b in np.flatnonzero(kept)}


def _state(point: OperatingPoint) -> State:
    """The modes of a recorded point."""
    return State(
        [ON if on else OFF for on in point.load_on],
        [CONVERTER_MODES.index(mode) for mode in point.converter_mode],
        [FEED_MODES.index(mode) for mode in point.feed_mode],
    )


def bend_at(network: Network, corner: Corner, point: OperatingPoint) -> Bend | None:
    """Slopes at a point with every load left on, however low its voltage; None where there is no such point."""
    if point.events:
        loads = tuple(replace(load, cutoff_v=0.0) for load in corner.loads)
        converters = tuple(replace(c, lockout_v=0.0) for c in corner.converters)
        corner = replace(corner, loads=loads, converters=converters)
        point = solve(network, corner)
        if point.events:
            return None
    return Bend(network, corner, point)
