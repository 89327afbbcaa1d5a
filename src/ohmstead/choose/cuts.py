"""A finding of the full check becomes a row: at least one thing that could mend it has to change."""

from collections.abc import Iterable
from math import inf

from ..evidence.chain import Chain, chain_of
from ..evidence.finding import Finding
from ..parts.fuse import Fuse
from ..parts.wire import Wire
from .assign import Picks
from .options import Decision
from .programme import Programme, Row
from .trial import Trial

# Which change can mend a finding: a thicker wire on the way, a larger or smaller fuse, a different kind.
THICKER_WAY = (
    "voltage-too-low",
    "converter-locked-out",
    "supply-collapses",
    "drop-on-path",
    "drop-on-run",
    "lockout-hunting",
    "disconnect-hunts",
    "ethernet-device-voltage-low",
    "ethernet-port-voltage-low",
    "input-filter-unstable",
    "buck-in-dropout",
    "disconnect-stays-open",
)
THICKER_OWN = ("cable-overloaded", "conductor-too-thin-for-mechanics")
SMALLER_FUSE = (
    "fuse-over-cable",
    "weak-short",
    "cable-burns-in-fault",
    "fault-not-cleared",
    "fuse-too-far",
    "far-end-fault-below-three-times",
)
BY_SIZE = (
    *SMALLER_FUSE,
    "fuses-not-selective",
    "fuse-cannot-break-fault",
    "terminal-does-not-take-wire",
    "fuse-over-holder",
    "unfused-run",
    "converter-overloaded",
    "converter-overloaded-when-hot",
    "fuse-voltage-low",
    "fuse-overloaded",
    "start-up-melts-fuse",
    "insulation-below-place",
)
LARGER_FUSE = ("fuse-overloaded", "start-up-melts-fuse")


class Cuts:
    """Makes rows from what a trial still finds."""

    def __init__(self, programme: Programme, trial: Trial, picks: Picks) -> None:
        self.programme, self.trial, self.picks = programme, trial, picks
        self.chain: Chain = chain_of(trial.operation.circuit)
        self.numbers = {name: number for number, name in self.chain.name_of.items()}

    def add(self, finding: Finding) -> str:
        """Add a row for a finding; "no" when nothing that is open can mend it."""
        columns = sorted(self._levers(finding))
        if not columns:
            return "no"
        self.programme.demand(
            finding.rule, finding.subject, finding.message, [Row(dict.fromkeys(columns, 1.0), 1.0, inf)]
        )
        return "yes"

    def _levers(self, finding: Finding) -> set[int]:
        """Columns of which one at least must be picked."""
        way = self._way(finding.subject)
        own = self.numbers.get(finding.subject)
        view = next((v for v in self.trial.evidence.runs if v.name == finding.subject), None)
        guard = self.numbers[view.guard.run] if view is not None and view.guard is not None else own
        if finding.rule in THICKER_WAY:
            return self._thicker(way)
        if finding.rule in THICKER_OWN and own is not None:
            return self._thicker([own])
        if finding.rule in SMALLER_FUSE:
            wires = way if finding.rule in ("fault-not-cleared", "far-end-fault-below-three-times") else way[-1:]
            return self._thicker(wires) | self._fuses(guard, "smaller")
        if finding.rule in LARGER_FUSE:
            return self._fuses(own, "larger")
        if finding.rule == "fuses-not-selective" and view is not None:
            above = next(
                (self.numbers[n] for n in view.upstream if self.trial.evidence.run(n).own_fuse is not None), None
            )
            return self._fuses(own, "smaller") | self._fuses(above, "larger")
        if finding.rule == "fuse-cannot-break-fault" and view is not None:
            return (
                self._fuses(own, "other kind")
                | self._thinner(way[:-1])
                | {column for n in way[:-1] for column in self._fuses(n, "smaller")}
            )  # it may limit the sooner
        return self._others(finding.subject, way)

    def _way(self, subject: str) -> list[int]:
        """Runs between the battery and a run or part, across converters, battery first."""
        if subject in self.numbers:
            number = self.numbers[subject]
            feeder = self.chain.circuit.map.feeder[self.chain.ways[number].near].name
            before = self.chain.whole_path(feeder) if feeder in self.trial.site.parts else ()
            return [*before, *reversed(self.chain.circuit.map.upstream[number]), number]
        if subject in self.trial.site.parts:
            return list(self.chain.whole_path(subject))
        return sorted(self.chain.ways)

    def _thicker(self, numbers: Iterable[int]) -> set[int]:
        return self._sized(numbers, 1.0)

    def _thinner(self, numbers: Iterable[int]) -> set[int]:
        return self._sized(numbers, -1.0)

    def _sized(self, numbers: Iterable[int], sign: float) -> set[int]:
        found: set[int] = set()
        for number in numbers:
            decision = self.programme.by_run.get((number, "wire"))
            if decision is None:
                continue
            now = _area(decision, self.picks[decision.key])
            found |= {
                self.programme.column(decision, i)
                for i in range(len(decision.options))
                if sign * (_area(decision, i) - now) > 1e-9
            }
        return found

    def _fuses(self, number: int | None, change: str) -> set[int]:
        """Fuses that differ from the picked one: "smaller" or "larger" of its kind, or of any "other kind"."""
        decision = self.programme.by_run.get((number or 0, "fuse"))
        if decision is None:
            return set()
        now = decision.options[self.picks[decision.key]].thing
        assert isinstance(now, Fuse)
        found = set()
        for index, option in enumerate(decision.options):
            fuse = option.thing
            assert isinstance(fuse, Fuse)
            same = fuse.family.name == now.family.name
            fits = {
                "smaller": fuse.rating_a < now.rating_a,
                "larger": fuse.rating_a > now.rating_a,
                "other kind": False,
            }[change]
            if fits if same else True:
                found.add(self.programme.column(decision, index))
        return found

    def _others(self, subject: str, way: list[int]) -> set[int]:
        """Anything but what is picked now, for the subject, or along the way when it is a part."""
        numbers = [self.numbers[subject]] if subject in self.numbers else way
        found: set[int] = set()
        for decision in self.programme.decided:
            if decision.number in numbers and decision.number or decision.subject == subject:
                now = self.picks[decision.key]
                found |= {self.programme.column(decision, i) for i in range(len(decision.options)) if i != now}
        return found


def _area(decision: Decision, index: int) -> float:
    thing = decision.options[index].thing
    return thing.area_mm2 if isinstance(thing, Wire) else 0.0
