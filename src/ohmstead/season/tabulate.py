"""Power at the battery for a set of device states, by the network solver of the electrical check."""

from collections.abc import Mapping
from dataclasses import replace

from ..network.battery import drains_without, watchers
from ..network.cases import Case
from ..network.compile import compile_site
from ..network.corner import Figures, corner_of, figures
from ..network.elements import OPEN_OHM, Corner, OperatingPoint
from ..network.solve import solve
from ..quantity.span import Span
from ..site.kinds import Charger, Device, Disconnect
from ..site.model import Site
from .bank import Bank

VOLTAGES = ("low", "nominal", "full")


class Tabulator:
    """The network of a site with every draw at its usual value and copper half-way between cold and hot."""

    def __init__(self, site: Site, bank: Bank) -> None:
        self.site = _typical(site)
        self.known: Figures = figures(compile_site(self.site))
        cold, hot = (corner_of(self.known, Case("", "nominal", at, "busy"), {}) for at in ("cold", "hot"))
        self._ohm = tuple((a + b) / 2 for a, b in zip(cold.branch_ohm, hot.branch_ohm, strict=True))
        n_source = len(self.known.circuit.network.sources)
        self._source_ohm = (max(bank.warm_ohm * n_source, 1e-6),) * n_source
        self.browned: dict[str, str] = {}  # device -> battery state in which it dropped out
        self._kept: dict[tuple[object, ...], float] = {}

    @property
    def disconnects(self) -> tuple[Disconnect, ...]:
        """The low-voltage disconnects that watch the bank."""
        found = {part.name: part for name in self.site.batteries for part in watchers(self.site, name)}
        return tuple(found.values())

    @property
    def passing(self) -> tuple[str, ...]:
        """What still draws from the bank when they are open."""
        opened = {part.name for part in self.disconnects}
        if not opened:
            return ()
        return tuple({name: None for b in self.site.batteries for name in drains_without(self.site, b, opened)})

    def voltage_v(self, battery: str) -> float:
        """Resting voltage of the first battery in a state of the cases. [V]"""
        return next(iter(self.known.batteries.values())).source_v(battery)

    def power_w(self, states: Mapping[str, str], battery: str, cut: str = "closed") -> float:
        """Power at the terminals of all batteries; `cut` "open" opens the disconnects. [W]"""
        kept = (battery, cut, *sorted(states.items()))
        if kept not in self._kept:
            corner = self._corner(Case("season", battery, "hot", "busy", states), cut)
            point = solve(self.known.circuit.network, corner)
            for event in point.events:
                if cut == "closed" and event.kind == "browned out":
                    self.browned.setdefault(event.element, battery)
            self._kept[kept] = self._given_w(corner, point)
        return self._kept[kept]

    def charging_loss_per_w(self, *names: str) -> float:
        """Loss in the wires between some chargers and the bank over the square of their power. [1/W]"""
        corner = self._corner(Case("season", "nominal", "hot", "bare"), "closed")
        circuit = self.known.circuit
        feeds = tuple(replace(state, running=feed.name in names)
                      for feed, state in zip(circuit.network.feeds, corner.feeds, strict=True))  # fmt: skip
        corner = replace(corner, feeds=feeds)
        point = solve(circuit.network, corner)
        fed_w = sum(point.feed_a[i] * (point.voltage_v[f.positive] - point.voltage_v[f.negative])
                    for i, f in enumerate(circuit.network.feeds))  # fmt: skip
        if fed_w <= 0.0:
            return 0.0
        lost_w = fed_w + self._given_w(corner, point) - self.power_w({}, "nominal")
        return max(0.0, lost_w) / fed_w**2

    def _corner(self, case: Case, cut: str) -> Corner:
        corner = corner_of(self.known, case, {})
        ohms = list(self._ohm)
        if cut == "open":
            for part in self.disconnects:
                ohms[self.known.circuit.inner_branch[part.name]] = OPEN_OHM
        return replace(corner, branch_ohm=tuple(ohms), source_ohm=self._source_ohm)

    @staticmethod
    def _given_w(corner: Corner, point: OperatingPoint) -> float:
        pairs = zip(point.source_a, corner.source_v, corner.source_ohm, strict=True)
        return sum(a * (v - a * ohm) for a, v, ohm in pairs)


def _typical(site: Site) -> Site:
    """The site with every draw at its usual value instead of a span."""
    parts = dict(site.parts)
    for name, part in parts.items():
        if isinstance(part, Device):
            draws = tuple(replace(d, power_w=Span(*(d.power_w.nominal,) * 3)) for d in part.draws)
            parts[name] = replace(part, draws=draws)
    return replace(site, parts=parts)


def sun_chargers(site: Site) -> tuple[str, ...]:
    """Names of the chargers that the sun drives."""
    return tuple(part.name for part in site.parts.values() if isinstance(part, Charger) and part.supply == "sun")
