"""A fuse and the wires it guards: which go together, and how long a way still clears a short."""

from collections.abc import Iterator
from math import inf

from ..evidence.chain import chain_of
from ..evidence.coverage import allowed_before, fuse_upstream, share_through
from ..evidence.views import Evidence, RunView
from ..parts.fuse import Fuse
from ..quantity.show import show
from ..rules.fuse_over_cable import NEC_STEPS_A
from ..wiring.fuse_time import melting_window_s, opens_within
from .ohms import SMALLEST, Ohms
from .programme import Programme, Row
from .trial import Trial

OVERLOAD_FACTOR = 1.45  # IEC 60364-4-43, 433.1, from memory: a wire bears 1.45 times its ampacity for an hour
SURE_SHARE = 0.25  # of the largest short with the thickest wires: thinner ones let no less flow; ours
OVER_CABLE, CLEARS, PLUG, BARE, SELECTIVE = (
    "fuse-over-cable",
    "fault-not-cleared",
    "fuse-over-holder",
    "unfused-run",
    "fuses-not-selective",
)


class Guarding:
    """Rows that tie fuses to the wires behind them."""

    def __init__(self, programme: Programme, ohms: Ohms, trial: Trial) -> None:
        self.programme, self.ohms = programme, ohms
        self.evidence: Evidence = trial.evidence
        self.trial = trial
        self.surely: dict[tuple[str, float], float] = {}
        self.upstream = trial.operation.circuit.map.upstream
        self.numbers = {view.name: view.run.number for view in trial.evidence.runs}
        self.ways = chain_of(trial.operation.circuit).ways

    def demands(self) -> None:
        """All of them."""
        for view in self.evidence.runs:
            if view.run.wires == "negative" or view.fed_kind == "ethernet power source":
                continue
            if view.guard is None:
                self._bare(view)
            else:
                self._pair(view)
                self._plug(view)
                self._clears(view)
            self.selective(view, SURE_SHARE)

    def _wires(self, view: RunView) -> list[tuple[int | None, float, float]]:
        """Column (None when laid already), ampacity and cross-section of each wire a run may have."""
        number = view.run.number
        decision = self.programme.by_run.get((number, "wire"))
        bears = self.ohms.bears[number]
        stated = view.run.ampacity_a is not None
        areas = [path.wire.area_mm2 if path.wire and not stated else inf for path in self.ohms.paths[number]]
        columns = list(self.programme.columns(decision)) if decision else [None]
        return [(column, a, area) for column, a, area in zip(columns, bears, areas, strict=True)]

    def _fuses(self, view: RunView) -> list[tuple[int | None, Fuse]]:
        """Column (None when fitted already) and fuse of the place that guards a run."""
        assert view.guard is not None
        decision = self.programme.by_run.get((self.numbers[view.guard.run], "fuse"))
        if decision is None:
            return [(None, view.guard.fuse)]
        return [
            (column, option.thing)
            for column, option in zip(self.programme.columns(decision), decision.options, strict=True)
            if isinstance(option.thing, Fuse)
        ]

    def _limited(self, view: RunView, bears_a: float) -> str:
        """ "yes" when the source cannot push more through the wire than it bears."""
        near = view.fault_near
        return "yes" if near is not None and near.limited_by != "battery" and near.largest_a <= bears_a else "no"

    def _together(self, view: RunView, fuse: Fuse, bears_a: float, area_mm2: float) -> str:
        """Empty when a fuse may guard a wire; else "no"."""
        if bears_a == inf or self._limited(view, bears_a) == "yes":
            return ""
        assert view.guard is not None
        share = share_through(self.evidence, view.guard, view)
        allowed = allowed_before(bears_a, area_mm2, view.source_high.value, self.evidence.rules)
        if fuse.rating_a / share > allowed.rating_a:
            step = next((s for s in NEC_STEPS_A if s >= allowed.ampacity_a), 0)
            us = self.evidence.rules == "US" and allowed.rating_a >= allowed.ampacity_a
            if not us or fuse.rating_a / share != step:
                return "no"
        surely_a = self._surely_a(fuse) / share
        if surely_a > OVERLOAD_FACTOR * bears_a and fuse.rating_a <= bears_a:
            return "no"
        near = view.fault_near
        if near is not None and near.limited_by != "battery" and self._needs_a(view, fuse) > near.smallest_a:
            return "no"
        return ""

    def _surely_a(self, fuse: Fuse) -> float:
        """The least current that surely opens a fuse at all. [A]"""
        key = (fuse.family.name, fuse.rating_a)
        if key not in self.surely:
            self.surely[key] = opens_within(fuse, inf)
        return self.surely[key]

    def _pair(self, view: RunView) -> None:
        if view.fault_near is None:
            return
        assert view.guard is not None
        wires, fuses = self._wires(view), self._fuses(view)
        where = "" if view.guard.run == view.name else f" in {view.guard.run}"
        words = f"the fuse{where} must be one that the wire of {view.name} bears"
        rows = []
        for fuse_column, fuse in fuses:
            if fuse_column in self.programme.dropped:
                continue
            good = [column for column, bears, area in wires if not self._together(view, fuse, bears, area)]
            if len(good) == len(wires):
                continue
            rows += list(_implies(fuse_column, good, [column for column, _, _ in wires]))
        if rows:
            self.programme.demand(OVER_CABLE, view.name, words, rows)

    def _needs_a(self, view: RunView, fuse: Fuse) -> float:
        """The smallest short that clears in the time allowed, as a current in the run. [A]"""
        assert view.guard is not None
        coldest = self.evidence.run(view.guard.run).coldest_c
        share = share_through(self.evidence, view.guard, view)
        return opens_within(fuse, self.evidence.clear_within_s, coldest) / share

    def _clears(self, view: RunView) -> None:
        """The loop to the far end, with the wires hot and the battery low, must let enough current flow."""
        far, near = view.fault_far, view.fault_near
        if far is None or near is None or far.smallest_a <= 0:
            return
        number = view.run.number
        along = [n for n in (number, *self.upstream[number]) if self.ohms.is_open(n) == "yes"]
        fuses = self._fuses(view)
        if not along and fuses[0][0] is None:
            return
        limited = near.limited_by != "battery"
        volts = _fault_v(self.trial, view) if not limited else _converter_v(self.trial, view)
        if volts <= 0:
            return
        assert view.guard is not None
        terms: dict[int, float] = {}
        fixed = volts / far.smallest_a if not limited else _loop_ohm(self.trial, view)
        for n in along:
            run = self.ohms.whole(n, SMALLEST)
            fixed -= _now_ohm(self.trial, n)
            fixed += run.fixed
            for column, ohm in run.terms.items():
                terms[column] = terms.get(column, 0.0) + ohm
        top = 0.0
        for fuse_column, fuse in fuses:
            allowed = volts / needs if (needs := self._needs_a(view, fuse)) < inf else 0.0
            if fuse_column is None:
                top = allowed
            else:
                terms[fuse_column] = terms.get(fuse_column, 0.0) - allowed
        if limited:  # a wire that bears all its source can give needs no clearing
            for wire_column, bears, _ in self._wires(view):
                if self._limited(view, bears) == "yes":
                    if wire_column is None:
                        return
                    terms[wire_column] = terms.get(wire_column, 0.0) - 1e3
        where = f" in {view.guard.run}" if view.guard.run != view.name else ""
        words = (
            f"a short at the far end of {view.name} must open the fuse{where} within "
            f"{show(self.evidence.clear_within_s, 'time')}"
        )
        self.programme.demand(CLEARS, view.name, words, [Row(terms, -inf, top - fixed)])

    def _plug(self, view: RunView) -> None:
        """A plug behind a fuse must bear what the fuse lets through."""
        rated = [end.rating_a for end in view.run.ends if end is not None and end.rating_a is not None]
        fault = view.fault_near
        if not rated or view.guard is None or view.guard.run == view.name:
            return
        limit = fault.largest_a if fault is not None and fault.limited_by != "battery" else inf
        bad = [
            column
            for column, fuse in self._fuses(view)
            if column is not None and min(fuse.rating_a, limit) > min(rated)
        ]
        words = f"the plug of {view.name} is made for {show(min(rated), 'current')}"
        self.programme.forbid(PLUG, view.name, words, bad)

    def _bare(self, view: RunView) -> None:
        """Without any fuse the wire must bear all that its converter or charger can push."""
        if view.fed_kind not in ("converter", "charger") or view.fault_near is None:
            return
        bad = [
            column
            for column, bears, _ in self._wires(view)
            if column is not None and self._limited(view, bears) == "no"
        ]
        words = (
            f"{view.fed_by} can push {show(view.fault_near.largest_a, 'current')} through {view.name}, "
            "and no fuse stands between"
        )
        self.programme.forbid(BARE, view.name, words, bad)

    def selective(self, view: RunView, sure_share: float) -> None:
        """Of two fuses in series the one nearer the source must be the larger or the slower.

        Shorts are looked at up to a share of the largest: less than all while wires are still to be chosen.
        """
        upper = fuse_upstream(self.evidence, view)
        decision = self.programme.by_run.get((view.run.number, "fuse"))
        if upper is None or (decision is None and view.own_fuse is None):
            return
        above = self.programme.by_run.get((self.numbers[upper.run], "fuse"))
        share = share_through(self.evidence, upper, view)
        uppers = _listed(self.programme, above, upper.fuse)
        lowers = _listed(self.programme, decision, view.own_fuse.fuse if view.own_fuse else upper.fuse)
        words = f"the fuse in {upper.run} must outlast the one in {view.name}"
        low = view.fault_far.smallest_a if view.fault_far else 0.0
        high = (view.fault_near.largest_a if view.fault_near else 0.0) * sure_share
        rows = []
        for column, fuse in uppers:
            if column in self.programme.refused:
                continue
            bad = {
                c
                for c, lower in lowers
                if fuse.rating_a <= lower.rating_a * share
                and c not in self.programme.refused
                and _turned(lower, fuse, share, (low, high))
            }
            if bad:
                every = [c for c, _ in lowers]
                rows += list(_implies(column, [c for c in every if c not in bad], every))
        if rows:
            self.programme.demand(SELECTIVE, view.name, words, rows)


def _now_ohm(trial: Trial, number: int) -> float:
    """Resistance of a run as it stands in the trial, in the regime of the smallest fault. [Ω]"""
    path = trial.operation.circuit.paths[number]
    return path.most_ohm(max(path.limit_c, path.air.high))


def _loop_ohm(trial: Trial, view: RunView) -> float:
    """The way from a converter to the far end of a run. [Ω]"""
    circuit = trial.operation.circuit
    numbers = (view.run.number, *circuit.map.upstream[view.run.number])
    return sum(circuit.paths[n].most_ohm(circuit.paths[n].limit_c) for n in numbers)


def _fault_v(trial: Trial, view: RunView) -> float:
    known = trial.operation.known.batteries
    return known[view.fed_by].source_v("low") if view.fed_by in known else 0.0


def _converter_v(trial: Trial, view: RunView) -> float:
    found = next((c for c in trial.evidence.converters if c.name == view.fed_by), None)
    return found.converter.output_v.low if found else 0.0


def _turned(lower: Fuse, upper: Fuse, share: float, between: tuple[float, float]) -> bool:
    """True when the fuse nearer the source may open first at some current between two."""
    low, high = between
    if lower.family.name == upper.family.name:  # the smaller of a kind is never the slower
        return high > 0 and melting_window_s(lower, high)[1] < inf
    gates = {gate.percent * fuse.rating_a / 100 for fuse in (lower, upper) for gate in fuse.window.gates}
    for amps in sorted({low, high} | {amps for amps in gates if low < amps < high}):
        latest = melting_window_s(lower, amps)[1]
        if latest < inf and latest >= melting_window_s(upper, amps * share)[0]:
            return True
    return False


def _listed(programme: Programme, decision: object, fitted: Fuse) -> list[tuple[int | None, Fuse]]:
    from .options import Decision

    if not isinstance(decision, Decision):
        return [(None, fitted)]
    return [
        (column, option.thing)
        for column, option in zip(programme.columns(decision), decision.options, strict=True)
        if isinstance(option.thing, Fuse)
    ]


def _implies(when: int | None, good: list[int | None], every: list[int | None]) -> Iterator[Row]:
    """If column `when` is picked (None: it is fitted already), one of `good` must be picked too."""
    if every == [None]:
        if when is not None and not good:
            yield Row({when: 1.0}, -inf, 0.0)
        return
    terms = {column: -1.0 for column in good if column is not None}
    if when is None:
        yield Row(terms or {column: 0.0 for column in every if column is not None}, -inf, -1.0)
    else:
        yield Row({**terms, when: 1.0}, -inf, 0.0)
