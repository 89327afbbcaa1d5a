"""The site on the bench: what is closed and what runs while a reading is taken, as a corner of the network."""

from collections.abc import Mapping, Sequence
from dataclasses import field, replace
from functools import cached_property
from math import inf
from types import MappingProxyType

from ..network.cases import Case
from ..network.compile import Circuit
from ..network.corner import THROUGH_OHM, converter_state, load_state, system_v
from ..network.demand import demand_w
from ..network.elements import OPEN_OHM, ConverterState, Corner, FeedState, LoadState
from ..network.operate import Operation
from ..quantity.span import Span
from ..site.kinds import Charger, Device, EthernetSource
from ..site.record import record
from .meter import HANDHELD, Meter
from .parameters import Parameter, Surroundings, parameters_of
from .wires import RunParts

NOTHING = LoadState(0.0)
HOLDS_ON = 0.8  # a device goes on somewhat below its stated window; common practice, no source

# A parameter moves a figure of the corner: its index, the figure, the element's place in the network, by how much.
Link = tuple[int, str, int, float]
Changes = Mapping[str, float]
UNCHANGED: Changes = MappingProxyType({})


@record(frozen=True)
class Situation:
    """What is switched on. Devices left out of `states` draw nothing; `opened` are numbers of runs that are open.

    `off` names switches and disconnects that stand open, `unplugged` Ethernet sources without power, `booting`
    Ethernet sources that have just started, `charging` the chargers that run.
    """

    name: str
    states: Mapping[str, str] = field(default_factory=dict)
    opened: frozenset[int] = frozenset()
    off: frozenset[str] = frozenset()
    unplugged: frozenset[str] = frozenset()
    booting: frozenset[str] = frozenset()
    charging: frozenset[str] = frozenset()


@record(frozen=True)
class Bench:
    """A site with everything that is uncertain about it. `at` gives a parameter's place by its id."""

    operation: Operation
    circuit: Circuit  # as the operation's, with usual draws
    surroundings: Surroundings
    meter: Meter
    parameters: tuple[Parameter, ...]
    runs: Mapping[int, RunParts]
    at: Mapping[str, int]

    @cached_property
    def run_of(self) -> Mapping[str, RunParts]:
        """The runs by name."""
        return {run.run.name: run for run in self.runs.values()}

    @cached_property
    def nominal(self) -> list[float]:
        """Every parameter's nominal value; not to be changed."""
        return [parameter.bounds.nominal for parameter in self.parameters]

    @cached_property
    def halves(self) -> list[float]:
        """How far each parameter may stray to either side where its distribution is uniform, else 0."""
        return [p.half if p.shape == "uniform" else 0.0 for p in self.parameters]

    @cached_property
    def sigmas(self) -> list[float]:
        """The standard deviation of each parameter whose distribution is normal, else 0."""
        return [0.0 if p.shape == "uniform" else p.sigma for p in self.parameters]

    @cached_property
    def nominal_branches(self) -> Mapping[int, list[tuple[int, float, list[Link]]]]:
        """`branches_of` every run at the nominal values."""
        return {number: branches_of(run, self.nominal) for number, run in self.runs.items()}

    @cached_property
    def _asked(self) -> dict[tuple[tuple[str, str], ...], Mapping[str, float]]:
        return {}

    def asked_w(self, case: Case) -> Mapping[str, float]:
        """Output power asked of each converter in a case, remembered by the states of the devices. [W]"""
        key = tuple(sorted(case.states.items()))
        found = self._asked.get(key)
        if found is None:
            found = self._asked[key] = demand_w(self.circuit, self.operation.known.losses, case)
        return found

    @cached_property
    def draws(self) -> Mapping[str, Mapping[str, int]]:
        """The parameter of each draw, by device and state."""
        found: dict[str, dict[str, int]] = {}
        for k, parameter in enumerate(self.parameters):
            if parameter.kind == "draw":
                found.setdefault(parameter.subject, {})[parameter.aspect] = k
        return found

    def values(self, changes: Changes = UNCHANGED) -> list[float]:
        """Every parameter's nominal value, some of them changed. Raises KeyError for an unknown id."""
        if not changes:
            return self.nominal
        values = self.nominal[:]
        for name, value in changes.items():
            values[self.at[name]] = value
        return values


def branches_of(run: RunParts, values: Sequence[float]) -> list[tuple[int, float, list[Link]]]:
    """Each branch of a closed run: its place in the network, its resistance, and the links to it. [Ω]"""
    found = []
    for branch in run.branches:
        # where the return is lumped into the branch, both poles lie in it
        places = run.places() if len(run.branches) == 1 else run.in_branch(branch)
        total, links = 0.0, list[Link]()
        for place in places:
            ohm, slopes = run.place_ohm(values, place)
            total += ohm
            links += [(index, "branch_ohm", branch, slope) for index, slope in slopes.items()]
        found.append((branch, total, links))
    return found


def bench_of(operation: Operation, surroundings: Surroundings | None = None, meter: Meter = HANDHELD) -> Bench:
    """A solved site made ready for measuring."""
    now = surroundings or Surroundings()
    parameters, runs = parameters_of(operation, now, meter)
    return Bench(
        operation,
        _usual(operation.circuit),
        now,
        meter,
        parameters,
        {run.run.number: run for run in runs},
        {parameter.id: k for k, parameter in enumerate(parameters)},
    )


def _usual(circuit: Circuit) -> Circuit:
    """The circuit with each draw at its usual figure, so that demands of converters are usual too."""
    parts = dict(circuit.site.parts)
    for name, part in parts.items():
        if isinstance(part, Device):
            draws = tuple([replace(draw, power_w=Span.exact(draw.power_w.nominal)) for draw in part.draws])
            parts[name] = replace(part, draws=draws)
    return replace(circuit, site=replace(circuit.site, parts=parts))


class Setting:
    """A corner of the network with the links from parameters to its figures."""

    def __init__(self, bench: Bench, situation: Situation, values: Sequence[float]) -> None:
        self.bench, self.situation, self.values = bench, situation, values
        self.case = Case("bench", "nominal", "hot", "busy", situation.states)
        self.own_links: list[Link] = []  # all but those of runs
        self.by_branch: dict[int, list[Link]] = {}
        network = bench.circuit.network
        self.corner = Corner(
            situation.name,
            self._branches(),
            tuple([self._source_v(i, s.name) for i, s in enumerate(network.sources)]),
            tuple([self._take("battery resistance", s.name, "source_ohm", i) for i, s in enumerate(network.sources)]),
            tuple([self._load(i, load.name) for i, load in enumerate(network.loads)]),
            self._converters(),
            tuple([self._feed(i, feed.name) for i, feed in enumerate(network.feeds)]),
        )

    @property
    def links(self) -> list[Link]:
        """Every link from a parameter to a figure of the corner."""
        return [*self.own_links, *(link for links in self.by_branch.values() for link in links)]

    def _take(self, kind: str, name: str, figure: str, place: int, slope: float = 1.0) -> float:
        """A parameter's value, with its link noted."""
        index = self.bench.at[f"{kind} of {name}"]
        self.own_links.append((index, figure, place, slope))
        return self.values[index]

    def _source_v(self, place: int, name: str) -> float:
        charge = self.bench.at["charge of batteries"]
        share = 1.0 + self.values[charge]
        own_v = self._take("battery voltage", name, "source_v", place, share)
        self.own_links.append((charge, "source_v", place, own_v))
        if name not in self.bench.surroundings.battery_v:
            return own_v * share
        # the meter that read the battery reads everything else as wrongly, so that most of its error cancels
        gain = self.bench.at[f"meter volts gain of {self.bench.meter.name}"]
        self.own_links.append((gain, "source_v", place, -own_v))
        return own_v * (share - self.values[gain])

    def _branches(self) -> tuple[float, ...]:
        circuit, opened = self.bench.circuit, self.situation.opened
        ohms = [0.0] * len(circuit.network.branches)
        nominal = self.values is self.bench.nominal
        for number, run in self.bench.runs.items():
            if number in opened:
                for branch in run.branches:
                    ohms[branch] = OPEN_OHM
                continue
            known = self.bench.nominal_branches[number] if nominal else branches_of(run, self.values)
            for branch, ohm, links in known:
                ohms[branch] = ohm
                self.by_branch[branch] = links
        for name, branch in circuit.inner_branch.items():
            part = circuit.site.parts[name]
            if isinstance(part, EthernetSource):
                ohms[branch] = THROUGH_OHM
            elif name in self.situation.off or getattr(part, "set_to", "") == "open":
                ohms[branch] = OPEN_OHM
            else:
                ohms[branch] = self._take("contact", name, "branch_ohm", branch)
        return tuple([max(ohm, 1e-6) for ohm in ohms])

    def _load(self, place: int, name: str) -> LoadState:
        circuit = self.bench.circuit
        part = circuit.site.parts[name]
        if isinstance(part, Device):
            index = self.bench.draws.get(name, {}).get(self.situation.states.get(name, ""))
            if index is None:
                return NOTHING
            watts, usual = self.values[index], self.bench.parameters[index].bounds.nominal
            law = load_state(part, self.case, system_v(self.bench.operation.known))
            share = watts / usual if usual else 0.0
            for figure, value in (("load_w", law.power_w), ("load_a", law.current_a), ("load_s", law.conductance_s)):
                if value:
                    self.own_links.append((index, figure, place, value / usual))
            return replace(
                law,
                power_w=law.power_w * share,
                current_a=law.current_a * share,
                conductance_s=law.conductance_s * share,
                cutoff_v=law.cutoff_v if part.cutoff_v is not None else HOLDS_ON * law.cutoff_v,
            )
        aspect = "own use start-up" if name in self.situation.booting else "own use"
        if name in self.situation.unplugged:
            return NOTHING
        law = load_state(part, self.case, system_v(self.bench.operation.known))
        if f"{aspect} of {name}" not in self.bench.at:
            return law
        return replace(law, power_w=self._take(aspect, name, "load_w", place))

    def _converters(self) -> tuple[ConverterState, ...]:
        circuit, known = self.bench.circuit, self.bench.operation.known
        wanted = self.bench.asked_w(self.case)
        found = []
        for i, converter in enumerate(circuit.network.converters):
            name = converter.name
            asked_w, losses = wanted.get(name, 0.0), known.losses[name]
            law = converter_state(circuit.site.parts[name], losses, self.case, asked_w)
            law = replace(law, set_v=self._take("set-point", name, "set_v", i))
            if f"idle of {name}" in self.bench.at:
                law = replace(law, loss_w=self._take("idle", name, "loss_w", i))
            if asked_w > 0.0:
                efficiency = asked_w / (asked_w + losses.lost_w(asked_w))
                points = self._take("efficiency", name, "loss_fraction", i, -1.0 / efficiency**2)
                law = replace(law, loss_fraction=law.loss_fraction - points / efficiency**2)
            found.append(law)
        return tuple(found)

    def _feed(self, place: int, name: str) -> FeedState:
        part = self.bench.circuit.site.parts[name]
        assert isinstance(part, Charger)
        running = name in self.situation.charging
        set_v = self._take("charger voltage", name, "feed_v", place)
        limit_a = self._take("charger limit", name, "feed_a", place)
        return FeedState(set_v, 2e-3, limit_a, part.power_w or inf, running)
