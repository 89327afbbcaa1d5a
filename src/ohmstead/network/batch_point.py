"""What a batch hands back: voltages and modes at once, currents when they are asked for."""

from typing import Any

import numpy as np

from .crowd import Crowd
from .elements import Network, OperatingPoint
from .flows import Flows, empty_flows, fill, residual_a
from .lanes import Figures
from .state import CONVERTER_MODES, DEAD, FEED_MODES, ON

CHUNK = 2048  # cases at a time: a column then stays in the processor's cache

Array = Any


class BatchPoint:
    """Solved cases; axes are case, then node or element. Modes are places in the names listed below.

    voltage_v, load_on, converter_mode, feed_mode, browned_out, locked_out: arrays (case, element).
    collapsed: array (case). one_by_one: the cases that were solved alone.
    """

    converter_modes = CONVERTER_MODES
    feed_modes = FEED_MODES

    def __init__(self, network: Network, figures: Figures, crowd: Crowd, single: dict[int, OperatingPoint]) -> None:
        self.voltage_v: Array = crowd.voltage_v.T
        self.load_on: Array = crowd.load_mode == ON
        self.converter_mode: Array = crowd.converter_mode
        self.feed_mode: Array = crowd.feed_mode
        self.browned_out: Array = crowd.browned_out
        self.locked_out: Array = crowd.locked_out
        self.collapsed: Array = crowd.collapsed
        self.one_by_one: Array = np.array(sorted(single), dtype=int)
        self._network, self._figures, self._crowd, self._single = network, figures, crowd, single
        self._flows: Flows | None = None
        self._residual_a: Array = None

    @property
    def load_v(self) -> Array:
        """Voltage at each load."""
        v = self._crowd.voltage_v
        mode = self._crowd.load_mode
        rows = [
            np.where(mode[:, i] != DEAD, v[load.positive] - v[load.negative], 0.0)
            for i, load in enumerate(self._network.loads)
        ]
        return np.array(rows).reshape(len(rows), v.shape[1]).T

    @property
    def branch_a(self) -> Array:
        """Current of each branch."""
        return self._flow().branch_a.T

    @property
    def source_a(self) -> Array:
        """Current of each battery."""
        return self._flow().source_a.T

    @property
    def load_a(self) -> Array:
        """Current of each load."""
        return self._flow().load_a.T

    @property
    def converter_in_a(self) -> Array:
        """Input current of each converter."""
        return self._flow().converter_in_a.T

    @property
    def converter_out_a(self) -> Array:
        """Output current of each converter."""
        return self._flow().converter_out_a.T

    @property
    def feed_a(self) -> Array:
        """Current of each charger."""
        return self._flow().feed_a.T

    @property
    def residual_a(self) -> Array:
        """The largest violation of Kirchhoff's current law in each case, by the elements' own laws."""
        self._flow()
        return self._residual_a

    def leaking(self, step: int) -> Array:
        """Of every `step`-th case, those that violate Kirchhoff's law by more than rounding."""
        n_case = len(self.collapsed)
        at = np.arange(0, n_case, step)
        flow = empty_flows(self._network, len(at))
        self._fill(flow, at)
        largest_a = np.abs(flow.branch_a).max(axis=0, initial=1.0)
        wrong = residual_a(self._network, flow) > 1e-6 + 1e-10 * largest_a
        return at[wrong & ~np.isin(at, self.one_by_one)]

    def _flow(self) -> Flows:
        if self._flows is None:
            n_case = len(self.collapsed)
            flow = empty_flows(self._network, n_case)
            self._residual_a = np.zeros(n_case)
            for first in range(0, n_case, CHUNK):
                which = slice(first, first + CHUNK)
                self._fill(flow.part(which), which)
                for k, point in self._single.items():
                    if first <= k < first + CHUNK:
                        flow.place(k, point)
                self._residual_a[which] = residual_a(self._network, flow.part(which))
            self._flows = flow
        return self._flows

    def _fill(self, flow: Flows, which: Any) -> None:
        crowd = self._crowd
        modes = (crowd.load_mode[which], crowd.converter_mode[which], crowd.feed_mode[which])
        fill(flow, self._network, self._figures.take(which), crowd.voltage_v[:, which], modes)
