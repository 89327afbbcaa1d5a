"""Voltage windows and limits of drop, as rows that are exact where the site was last solved.

A figure's tangent never promises less than the figure can reach: with constant-power loads a voltage bends
down as resistances grow, so its tangent lies above it, and a row made from it forbids nothing that holds.
"""

from collections.abc import Iterator
from dataclasses import replace
from math import inf

from ..evidence.chain import Chain, chain_of
from ..evidence.drops import CRAFT, UNNOTICED_FRACTION
from ..evidence.feeding import fed_by, inlets
from ..evidence.views import Evidence
from ..network.operate import Operation
from ..quantity.show import show
from ..rules.no_disconnect import spare_v
from ..site.kinds import Device
from ..site.record import record
from ..tables.reader import rows
from .ohms import COLD, HOT, Ohms
from .programme import Programme, Row
from .tangent import Bend, Tangent, bend_at
from .trial import Trial

WORST = 2  # cases looked at for each window and solution
NEAR = {"least": 1.01, "most": 0.9}  # of its limit: a window that needs a fresh row even when it is kept
HAIR_V = 1e-7  # rounding of the solver; a row asks for so much more


@record(frozen=True)
class Window:
    """One figure with its limit: the voltage between `near` and `far` ("" for the common negative).

    kind: the rule that speaks when it is passed. sense: "least" or "most". when: "drawing", "running", "lasting".
    `reserve` is the share of the voltage lost on the way from `source` that must be left besides.
    """

    kind: str
    subject: str
    near: str
    far: str
    limit_v: float
    sense: str
    when: str
    words: str
    source: str = ""
    reserve: float = 0.0


def windows(trial: Trial) -> Iterator[Window]:
    """All windows of a site that wires can decide.

    What stops only when a battery without a disconnect is drained to the end counts as stopping with it: then
    the window begins lower, and the usual reserve for joints is asked for.
    """
    evidence, chain = trial.evidence, chain_of(trial.operation.circuit)
    on_ports = {port.device.name for source in evidence.ethernet for port in source.ports}
    for view in evidence.devices:
        if view.fed_by and view.low_v is not None and view.name not in on_ports and view.path:
            spare = spare_v(evidence, view.fed_by, view.name)
            reserve = UNNOTICED_FRACTION if spare > 0 else 0.0
            yield Window(
                "voltage-too-low",
                view.name,
                view.name,
                "",
                view.low_v - spare,
                "least",
                "drawing",
                f"{view.name} needs {show(view.low_v, 'voltage')}",
                _feeding(chain, view.name),
                reserve,
            )
    for inlet in inlets(evidence):
        least = max(inlet.window.low, inlet.lockout.off_v if inlet.lockout else 0.0)
        spare = spare_v(evidence, fed_by(evidence, inlet.name), inlet.name)
        yield Window(
            "converter-locked-out",
            inlet.name,
            f"{inlet.name} in",
            "",
            least - spare,
            "least",
            "running",
            f"{inlet.name} works from {show(least, 'voltage')} on",
        )
    limit = drop_limit(evidence)
    if limit < 1.0:
        yield from _drops(evidence, chain, limit)


def drop_limit(evidence: Evidence) -> float:
    """The share of the supply over which a drop fails: the limit that the site states, or that of small craft."""
    if evidence.drop_limit_how == "stated":
        return evidence.drop_limit_fraction
    required = [float(row["drop_fraction"]) for row in rows("drop_limit") if row["rules"] == evidence.rules == CRAFT]
    return max([*required, evidence.drop_limit_fraction]) if required else 1.0


def _feeding(chain: Chain, name: str) -> str:
    """The point from which a part is fed."""
    feeder = chain.feeder_of(name)
    return f"{feeder.name} out" if f"{feeder.name} out" in chain.circuit.map.feeder else feeder.name


def _drops(evidence: Evidence, chain: Chain, limit: float) -> Iterator[Window]:
    named = [(view.name, view.name) for view in evidence.devices if view.device.over == "wire" and view.path]
    named += [(inlet.name, f"{inlet.name} in") for inlet in inlets(evidence)]
    for name, far in named:
        runs, feeder = chain.path_to(name), chain.feeder_of(name)
        if not runs or feeder.kind not in ("battery", "converter"):
            continue
        limit_v = limit * evidence.run(chain.name_of[runs[0]]).supply_v
        words = f"no more than {show(limit_v, 'voltage')} may be lost on the way to {name}"
        yield Window("drop-on-path", name, _feeding(chain, name), far, limit_v, "most", "lasting", words)


class Windows:
    """All windows, and rows from each solved site."""

    def __init__(self, programme: Programme, ohms: Ohms, trial: Trial) -> None:
        self.programme, self.ohms = programme, ohms
        runs = trial.operation.circuit.run_branches
        self.run_of = {branch: number for number, branches in runs.items() for branch in branches}
        self.kept = [w for w in windows(trial) if not _past(w, self._figures(w, trial.operation))]
        self.started = False
        self.beyond = [w for w in windows(trial) if w not in self.kept]

    def add(self, operation: Operation) -> list[Window]:
        """Rows at a solved site; the windows that it passes."""
        bends: dict[int, Bend | None] = {}
        passed = []
        amps = _warming_a(operation)
        for window in self.kept:
            figures = self._figures(window, operation)
            figures.sort(key=lambda pair: pair[0], reverse=window.sense == "most")
            lossy, lost_v = self._lossiest(window, operation) if window.reserve else (None, 0.0)
            over = _past(window, figures, window.reserve * lost_v)
            if over:
                passed.append(window)
            elif self.started and not self._near(window, figures, window.reserve * lost_v):
                continue
            for _, index in figures[:WORST]:
                terms, fixed = self._line(window, operation, index, bends, amps)
                if lossy is not None:
                    drop = Window("", window.subject, window.source, window.near, 0.0, "most", "lasting", "")
                    of_drop, fixed_drop = self._line(drop, operation, lossy, bends, amps)
                    fixed -= window.reserve * fixed_drop
                    for column, value in of_drop.items():
                        terms[column] = terms.get(column, 0.0) - window.reserve * value
                if any(terms.values()):
                    edge = window.limit_v - fixed
                    row = Row(terms, edge + HAIR_V, inf) if window.sense == "least" else Row(terms, -inf, edge - HAIR_V)
                    self.programme.demand(window.kind, window.subject, window.words, [row])
        self.started = True
        return passed

    def _near(self, window: Window, figures: list[tuple[float, int]], reserve_v: float) -> str:
        """ "yes" when a window is so nearly passed that the next picks may pass it."""
        return _past(replace(window, limit_v=window.limit_v * NEAR[window.sense]), figures, reserve_v)

    def _lossiest(self, window: Window, operation: Operation) -> tuple[int | None, float]:
        """The case that lasts in which most is lost on the way, and how much. [V]"""
        drop = Window("", window.subject, window.source, window.near, 0.0, "most", "lasting", "")
        lost_v, index = max(self._figures(drop, operation), default=(0.0, None))
        return index, max(0.0, lost_v)

    def _line(
        self, window: Window, operation: Operation, index: int, bends: dict[int, Bend | None], amps: dict[int, float]
    ) -> tuple[dict[int, float], float]:
        """A window's figure in one case as a line over columns; nothing where the case has no slopes."""
        if index not in bends:
            bends[index] = bend_at(operation.circuit.network, operation.corners[index], operation.points[index])
        bend = bends[index]
        if bend is None:
            return {}, 0.0
        circuit = operation.circuit
        if window.sense == "least":
            tangent = bend.voltage(circuit.positive[window.near], circuit.negative[window.near])
        else:
            tangent = _difference(bend, operation, window)
        hot = HOT if operation.cases[index].temperature == "hot" else COLD
        return self.expand(operation, tangent, bend, hot, amps)

    def _figures(self, window: Window, operation: Operation) -> list[tuple[float, int]]:
        """The figure in every case where it counts; a brown-out counts with the voltage before it."""
        circuit, found = operation.circuit, []
        for index, (case, point) in enumerate(zip(operation.cases, operation.points, strict=True)):
            if (
                window.when == "lasting"
                and not case.lasts
                or window.when == "drawing"
                and not _drawing(operation, window.subject, case.name, index)
            ):
                continue
            down = [e.voltage_v for e in point.events if e.element == window.subject]
            if window.sense == "least":
                value = min([operation.voltage_v(point, window.near), *down])
            elif window.subject in circuit.load_of and not point.load_on[circuit.load_of[window.subject]]:
                continue
            else:
                value = operation.voltage_v(point, window.near) - operation.voltage_v(point, window.far)
            found.append((value, index))
        return found

    def expand(
        self, operation: Operation, tangent: Tangent, bend: Bend, regime: str, amps: dict[int, float]
    ) -> tuple[dict[int, float], float]:
        """A tangent over branches as a sum over columns and a fixed part."""
        terms: dict[int, float] = {}
        fixed = tangent.value
        for number in dict.fromkeys(self.run_of.get(branch, 0) for branch in tangent.slopes):
            if not number or self.ohms.is_open(number) == "no":
                continue
            branches = operation.circuit.run_branches[number]
            slopes = [tangent.slopes.get(branch, 0.0) for branch in branches]
            fixed -= sum(slope * bend.corner.branch_ohm[b] for slope, b in zip(slopes, branches, strict=True))
            wire, fuse = self.ohms.wire(number, regime, amps.get(number, 0.0)), self.ohms.fuse(number, regime)
            for slope, part in ((sum(slopes) / len(slopes), wire), (slopes[0], fuse)):
                fixed += slope * part.fixed
                for column, ohm in part.terms.items():
                    terms[column] = terms.get(column, 0.0) + slope * ohm
        return terms, fixed


def _past(window: Window, figures: list[tuple[float, int]], reserve_v: float = 0.0) -> str:
    """ "yes" when the limit, or the reserve before it, is passed in any case, else ""."""
    values = [value for value, _ in figures]
    if not values:
        return ""
    if window.sense == "least":
        return "yes" if min(values) < window.limit_v + reserve_v else ""
    return "yes" if max(values) > window.limit_v else ""


def _drawing(operation: Operation, name: str, case: str, index: int) -> bool:
    """True when a device takes power in a case, or would had it not been taken off."""
    part = operation.site.parts.get(name)
    if not isinstance(part, Device):
        return True
    point = operation.points[index]
    asked = operation.cases[index].states.get(name)
    return asked is not None and (
        point.load_on[operation.circuit.load_of[name]] or any(e.element == name for e in point.events)
    )


def _difference(bend: Bend, operation: Operation, window: Window) -> Tangent:
    circuit = operation.circuit
    near = bend.voltage(circuit.positive[window.near], circuit.negative[window.near])
    far = bend.voltage(circuit.positive[window.far], circuit.negative[window.far])
    branches = near.slopes.keys() | far.slopes.keys()
    return Tangent(near.value - far.value, {b: near.slopes.get(b, 0.0) - far.slopes.get(b, 0.0) for b in branches})


def _warming_a(operation: Operation) -> dict[int, float]:
    """The current that warms each run's copper: battery low, hot, busy. [A]"""
    warm = [
        point
        for case, point in zip(operation.cases, operation.points, strict=True)
        if case.battery == "low" and case.temperature == "hot" and case.kind == "busy"
    ]
    return {
        number: max((abs(operation.run_a(point, number)) for point in warm), default=0.0)
        for number in operation.circuit.paths
    }
