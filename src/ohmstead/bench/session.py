"""A switch-on as it goes: which step is next, what was read, what was skipped. Every reading is stored at once."""

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING, Protocol

from ..network.operate import Operation
from ..site.record import record
from . import words
from .figures import Entered, understand
from .judge import Verdict, judge
from .meter import HANDHELD, Meter
from .parameters import Surroundings
from .plan import plan_of
from .reading import TICK, Entry, Reading
from .step import Plan, Step

if TYPE_CHECKING:  # at work only loaded where there is a store
    from .rows import Wanted

RESTING = "battery.rest."


class Keeper(Protocol):
    """Where readings are kept; `ohmstead.bench.store.Store` is one."""

    def add(self, reading: Reading) -> Entry:
        """Keep a reading; when this returns it is safe."""

    def correct(self, number: int, reading: Reading) -> Entry:
        """Put a reading in the place of an earlier one."""

    def withdraw(self, number: int, who: str, because: str) -> Entry:
        """Say that a reading does not count."""

    def entries(self, wanted: "Wanted") -> tuple[Entry, ...]:
        """Rows as wanted, in the order of entering."""


@record(frozen=True)
class Outcome:
    """A step with what was read and what it says; `verdict` is None for one that was skipped."""

    step: Step
    entry: Entry
    verdict: Verdict | None

    @property
    def skipped(self) -> bool:
        """True for a step that was passed over with a reason."""
        return self.verdict is None


class Session:
    """One person at the bench. What was entered for this text of the site file before is taken up again."""

    def __init__(
        self, operation: Operation, keeper: Keeper, who: str, meter_name: str = "", meter: Meter = HANDHELD
    ) -> None:
        self._operation, self._keeper, self._who, self._meter_name = operation, keeper, who, meter_name
        self._meter = meter
        self.plan: Plan = plan_of(operation, None, meter)
        self._entries: dict[str, Entry] = {}
        self._order: list[str] = []
        self.refresh()

    def outcomes(self) -> tuple[Outcome, ...]:
        """Every step that was answered, in the order of the plan."""
        return outcomes_of(self.plan, self._entries.values())

    def next_step(self) -> Step | None:
        """The first step without an answer, None at the end."""
        return next((step for step in self.plan.steps if step.id not in self._entries), None)

    def answered(self, step: Step) -> Entry | None:
        """What was entered for a step."""
        return self._entries.get(step.id)

    def enter(self, step: Step, text: str, note: str = "") -> Outcome:
        """Store and judge a reading as typed. Raises ValueError (text not understood) and StoreError."""
        understood: Entered = understand(step, text)
        point = step.point.id if step.point else step.title
        state = step.situation.name if step.situation else ""
        reading = Reading(
            step.quantity,
            point,
            understood.value,
            self._who,
            self.plan.revision,
            state,
            step.id,
            self._meter_name,
            note,
        )
        return Outcome(step, self._keep(step, reading), judge(step, understood.value))

    def skip(self, step: Step, because: str) -> Outcome:
        """Pass over a step. Raises ValueError without a reason, and StoreError."""
        if not because.strip():
            raise ValueError(words.SAY_WHY)
        reading = Reading(TICK, words.SKIPPED, 0.0, self._who, self.plan.revision, "", step.id, "", because.strip())
        return Outcome(step, self._keep(step, reading), None)

    def annotate(self, step: Step, note: str) -> None:
        """Put a note to what was entered for a step. Raises StoreError."""
        self.look_again()
        old = self._entries[step.id]
        self._entries[step.id] = self._keeper.correct(old.number, replace(old.reading, note=note, token=""))

    def undo(self, because: str) -> Step | None:
        """Withdraw the last answer of this session that still stands; its step, None when there is none."""
        self.look_again()
        while self._order:
            step = self._order.pop()
            entry = self._entries.get(step)
            if entry is None or entry.reading.who != self._who:
                continue  # withdrawn already, or another's answer stands in its place
            self._keeper.withdraw(self._entries.pop(step).number, self._who, because)
            self._tighten()
            return self.plan.step(step)
        return None

    def look_again(self) -> None:
        """See what others have entered meanwhile. Raises StoreError."""
        from .rows import Wanted

        found = self._keeper.entries(Wanted(revision=self.plan.revision))
        self._entries = {entry.reading.step: entry for entry in found if entry.reading.step}

    def refresh(self) -> None:
        """See what was entered, and make the plan anew with what was measured of the batteries. Raises StoreError."""
        self.look_again()
        self._tighten()

    def _keep(self, step: Step, reading: Reading) -> Entry:
        self.look_again()
        old = self._entries.get(step.id)
        entry = self._keeper.add(reading) if old is None else self._keeper.correct(old.number, reading)
        self._entries[step.id] = entry
        if step.id in self._order:
            self._order.remove(step.id)
        self._order.append(step.id)
        return entry

    def _tighten(self) -> None:
        measured = resting_v(self.plan, self._entries.values())
        if measured:
            self.plan = plan_of(self._operation, Surroundings(battery_v=measured), self._meter)


def resting_v(plan: Plan, entries: Iterable[Entry]) -> dict[str, float]:
    """Resting voltages of batteries as they were read, those outside their band left out. [V]"""
    found = {}
    for entry in entries:
        if entry.reading.step.startswith(RESTING) and entry.reading.value and entry.reading.point != words.SKIPPED:
            step = plan.step(entry.reading.step)
            if step.point is not None and judge(step, entry.reading.value).word != "stop":
                found[step.point.at] = entry.reading.value
    return found


def outcomes_of(plan: Plan, entries: Iterable[Entry]) -> tuple[Outcome, ...]:
    """Stored readings beside their steps, in the order of the plan; those of unknown steps are left out."""
    by_step = {entry.reading.step: entry for entry in entries}
    found = []
    for step in plan.steps:
        entry = by_step.get(step.id)
        if entry is not None and entry.reading.value is not None:
            skipped = entry.reading.point == words.SKIPPED
            found.append(Outcome(step, entry, None if skipped else judge(step, entry.reading.value)))
    return tuple(found)
