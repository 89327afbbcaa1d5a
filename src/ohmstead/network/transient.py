"""Start-up and inrush in time, on the same solver.

A capacitor is, for one step of backward Euler, a battery: its voltage behind its series resistance plus
step / capacitance. A battery's slow part (a resistance that builds up with a time constant) likewise only
changes electromotive force and resistance. So every instant is an ordinary corner of a network with some
more sources. Each step is taken once whole and once in two halves; the difference steers the step, and
the two are extrapolated to second order.

A load with a cut-off voltage and a converter with a lock-out stay off until their voltage has risen to it,
then stay on; converters have no soft start. Wires have no inductance: peaks are upper bounds. A converter
without lock-out that is fed by another one at its current limit may have no solution: see `unsolved`.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import exp, log

from .balance import Currents, currents
from .elements import Corner, Network, Source
from .settle import Case, Settled, settle
from .solve import program_of
from .state import LOW, OFF, REGULATING, first_state

STEP_SHARE = 2e-3  # difference of whole and halved step that is accepted, of the highest source voltage
FIRST_SHARE = 1e-6  # first step, of the duration
LEAST_SHARE = 1e-9
EVENT_SHARE = 1e-3  # a switching instant is found to within this share of the duration
MOST_STEPS = 20000
MOST_UNSOLVED = 10
SETTLED = 0.1  # the rush is over when the current has come this near to its last value


@dataclass(frozen=True, slots=True)
class Capacitor:
    """A capacitor between two nodes, with its series resistance and its voltage at the start."""

    name: str
    positive: int
    negative: int
    capacitance_f: float
    series_ohm: float = 0.0
    start_v: float = 0.0


@dataclass(frozen=True, slots=True)
class SlowPart:
    """The part of a battery's resistance that builds up in time; `source` is its place in the Network."""

    source: int
    resistance_ohm: float
    time_constant_s: float


@dataclass(frozen=True, slots=True)
class Transient:
    """What happened. Curves are one tuple an instant; the rest is per branch, in the Network's order.

    `branch_rush_s` is how long a branch's current was away from its last value by more than a tenth of the
    way to its peak. `unsolved` counts instants without a solution; they make the curves worthless.
    """

    time_s: tuple[float, ...]
    voltage_v: tuple[tuple[float, ...], ...]
    branch_a: tuple[tuple[float, ...], ...]
    source_a: tuple[tuple[float, ...], ...]
    branch_peak_a: tuple[float, ...]
    branch_i2t_a2s: tuple[float, ...]
    branch_rush_s: tuple[float, ...]
    source_peak_a: tuple[float, ...]
    unsolved: int


def inrush(
    network: Network,
    corner: Corner,
    capacitors: Sequence[Capacitor],
    duration_s: float,
    slow: Sequence[SlowPart] = (),
) -> Transient:
    """Switch the corner on at time zero and follow it."""
    run = _Run(network, corner, capacitors, slow)
    tolerance_v = STEP_SHARE * max([abs(v) for v in corner.source_v] + [f.set_v for f in corner.feeds])
    step_s, time_s = FIRST_SHARE * duration_s, 0.0
    run.note(0.0)
    for _ in range(MOST_STEPS):
        step_s = min(step_s, duration_s - time_s)
        if step_s <= LEAST_SHARE * duration_s:
            break
        whole = run.step(run.memory, step_s, run.point)
        half = run.step(run.memory, 0.5 * step_s, run.point)
        twice = run.step(half[0], 0.5 * step_s, half[1])
        if run.unsolved > MOST_UNSOLVED:
            break
        error_v = max([abs(a - b) for a, b in zip(whole[0], twice[0], strict=True)], default=0.0)
        fine = error_v <= tolerance_v or step_s <= 2.0 * LEAST_SHARE * duration_s
        if fine and step_s > EVENT_SHARE * duration_s and run.crossed(twice[1]):
            step_s *= 0.5
            continue
        if fine:
            time_s += step_s
            run.memory = [2.0 * b - a for a, b in zip(whole[0], twice[0], strict=True)]
            run.at(twice[1])
            run.note(time_s)
            if run.switch():
                run.note(time_s)
                step_s = min(step_s, EVENT_SHARE * duration_s)
        step_s *= min(3.0, max(0.2, 0.8 * (tolerance_v / error_v) ** 0.5)) if error_v > 0.0 else 3.0
    return run.result()


class _Run:
    """The extended network, what it remembers from step to step, and the curves so far."""

    def __init__(
        self, network: Network, corner: Corner, capacitors: Sequence[Capacitor], slow: Sequence[SlowPart]
    ) -> None:
        self.network, self.corner = network, corner
        self.capacitors, self.slow = tuple(capacitors), tuple(slow)
        extra = tuple([Source(c.name, c.positive, c.negative) for c in capacitors])
        self.wide = replace(network, sources=network.sources + extra)
        n_source = len(network.sources)
        soft = frozenset(range(n_source, n_source + len(extra)))
        self.case = Case(self.wide, program_of(self.wide), corner, {}, soft)
        self.wanted = first_state(corner)
        self.wanted.load = [OFF if law.cutoff_v > 0.0 else LOW for law in corner.loads]
        self.wanted.converter = [REGULATING if c.running and c.lockout_v <= 0.0 else OFF for c in corner.converters]
        # voltages of the capacitors, then of the slow parts
        self.memory = [c.start_v for c in capacitors] + [0.0] * len(slow)
        self.point = self.instant()
        self.unsolved = 0
        self.times: list[float] = []
        self.flows: list[Currents] = []
        self.volts: list[tuple[float, ...]] = []

    def step(self, memory: list[float], step_s: float, warm: Settled | None) -> tuple[list[float], Settled]:
        """One step of backward Euler: what is remembered after it, and the voltages at its end."""
        emf_v, ohm = list(self.corner.source_v), list(self.corner.source_ohm)
        n_capacitor = len(self.capacitors)
        rises: list[float] = []
        for part, v in zip(self.slow, memory[n_capacitor:], strict=True):
            share = step_s / part.time_constant_s
            emf_v[part.source] -= v / (1.0 + share)
            ohm[part.source] += part.resistance_ohm * share / (1.0 + share)
        for c, v in zip(self.capacitors, memory, strict=False):
            rises.append(step_s / c.capacitance_f)
            emf_v.append(v)
            ohm.append(rises[-1] + c.series_ohm)
        self.case.corner = replace(self.corner, source_v=tuple(emf_v), source_ohm=tuple(ohm))
        point = settle(self.case, self.wanted, 1.0, warm)
        if not point.found and not point.starved:
            # while capacitors charge the low point is the real one
            low = replace(point, state=self.wanted, voltage_v=[0.0] * len(self.wide.nodes))
            point = settle(self.case, self.wanted, 1.0, low)
        flow = currents(self.wide, self.case.corner, point.state, point.voltage_v)
        after = [
            v - rise * a for v, rise, a in zip(memory, rises, flow.source_a[len(self.network.sources) :], strict=False)
        ]
        for part, v in zip(self.slow, memory[n_capacitor:], strict=True):
            share = step_s / part.time_constant_s
            after.append((v + share * part.resistance_ohm * flow.source_a[part.source]) / (1.0 + share))
        return after, point

    def instant(self) -> Settled:
        """The voltages just after switching, before anything remembered has changed."""
        return self.step(self.memory, 0.0, None)[1]

    def at(self, near: Settled) -> None:
        """The voltages that belong to what is remembered now."""
        self.point = self.step(self.memory, 0.0, near)[1]

    def crossed(self, point: Settled) -> bool:
        """Whether something that is off has the voltage to start."""
        return bool(self._starting(point))

    def switch(self) -> bool:
        """Start what has the voltage to start."""
        starting = self._starting(self.point)
        for kind, i in starting:
            if kind == "load":
                self.wanted.load[i] = LOW
            else:
                self.wanted.converter[i] = REGULATING
        if starting:
            self.point = self.instant()
        return bool(starting)

    def _starting(self, point: Settled) -> list[tuple[str, int]]:
        v = point.voltage_v
        out = []
        for i, (load, law) in enumerate(zip(self.network.loads, self.corner.loads, strict=True)):
            if self.wanted.load[i] == OFF and v[load.positive] - v[load.negative] >= law.cutoff_v:
                out.append(("load", i))
        for i, (c, given) in enumerate(zip(self.network.converters, self.corner.converters, strict=True)):
            off = self.wanted.converter[i] == OFF and given.running
            if off and v[c.input_positive] - v[c.input_negative] >= given.lockout_v:
                out.append(("converter", i))
        return out

    def note(self, time_s: float) -> None:
        """Add an instant to the curves."""
        self.unsolved += not (self.point.found or self.point.starved)
        self.times.append(time_s)
        self.volts.append(tuple(self.point.voltage_v))
        self.flows.append(currents(self.wide, self.case.corner, self.point.state, self.point.voltage_v))

    def result(self) -> Transient:
        """The curves and what follows from them."""
        n_source = len(self.network.sources)
        branch_a = [tuple(flow.branch_a) for flow in self.flows]
        source_a = [tuple(flow.source_a[:n_source]) for flow in self.flows]
        by_branch = list(zip(*branch_a, strict=True)) or [() for _ in self.network.branches]
        return Transient(
            tuple(self.times),
            tuple(self.volts),
            tuple(branch_a),
            tuple(source_a),
            tuple([max(a, key=abs) for a in by_branch]),
            tuple([_square_integral(self.times, a) for a in by_branch]),
            tuple([_rush_s(self.times, a) for a in by_branch]),
            tuple([max(a, key=abs) for a in zip(*source_a, strict=True)]),
            self.unsolved,
        )


def _square_integral(times: Sequence[float], a: Sequence[float]) -> float:
    """∫ i² dt of a curve made of straight pieces."""
    total = 0.0
    for k in range(1, len(times)):
        total += (times[k] - times[k - 1]) * (a[k] ** 2 + a[k] * a[k - 1] + a[k - 1] ** 2) / 3.0
    return total


def _rush_s(times: Sequence[float], a: Sequence[float]) -> float:
    """Time in which the current was away from its last value by a tenth of the way to its peak or more."""
    last = a[-1]
    away = SETTLED * max([abs(x - last) for x in a])
    total = 0.0
    for k in range(1, len(times)):
        if away > 0.0 and 0.5 * (abs(a[k] - last) + abs(a[k - 1] - last)) > away:
            total += times[k] - times[k - 1]
    return total


def rc_current_a(voltage_v: float, loop_ohm: float, capacitance_f: float, time_s: float) -> float:
    """Current into an empty capacitor some time after it is switched on: the closed form of the simple case.

    i = U / R · exp(-t / (R · C))

    Parameters
    ----------
    voltage_v : float
        Supply voltage. [V]
    loop_ohm : float
        Everything in the loop. [Ω]
    capacitance_f : float
        Capacitance. [F]
    time_s : float
        Time since switching on. [s]

    Returns
    -------
    float
        Current. [A]

    Source
    ------
    battery-textbook, charging a capacitor through a resistor.

    Examples
    --------
    >>> round(rc_current_a(24.0, 0.05, 2200e-6, 110e-6), 2)
    176.58
    """
    return voltage_v / loop_ohm * exp(-time_s / (loop_ohm * capacitance_f))


def rc_time_s(loop_ohm: float, capacitance_f: float, share_fraction: float) -> float:
    """Time until the charging current has fallen to a share of its peak.

    t = R · C · ln(1 / share)

    Parameters
    ----------
    loop_ohm : float
        Everything in the loop. [Ω]
    capacitance_f : float
        Capacitance. [F]
    share_fraction : float
        Share of the peak. [1]

    Returns
    -------
    float
        Time. [s]

    Source
    ------
    battery-textbook, charging a capacitor through a resistor.

    Examples
    --------
    >>> round(1e6 * rc_time_s(0.05, 2200e-6, 0.1))
    253
    """
    return loop_ohm * capacitance_f * log(1.0 / share_fraction)
