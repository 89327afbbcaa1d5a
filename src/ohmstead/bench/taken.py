"""A reading from somewhere else, perhaps sent twice: stored once, and judged."""

from dataclasses import replace

from ..site.record import record
from . import words
from .figures import understand
from .judge import judge
from .reading import TICK, Entry, Reading
from .rows import Wanted
from .session import Outcome
from .step import Plan, Step
from .store import Store


@record(frozen=True)
class Typed:
    """What somebody typed at a step. `token` is the sender's own name for this reading; `at` the moment in UTC.

    `skipped` is the reason why the step is passed over, empty when it was done.
    """

    step: str
    text: str
    who: str
    token: str
    meter: str = ""
    note: str = ""
    at: str = ""
    skipped: str = ""


def take(store: Store, plan: Plan, typed: Typed) -> Outcome:
    """Store what was typed, in the place of an earlier answer to the step; the same token again changes nothing.

    Raises KeyError for a step that the plan has not, ValueError for a text not understood, StoreError.
    """
    step = plan.step(typed.step)
    reading = _reading(plan, step, typed)
    history = store.entries(Wanted("all", step=step.id, revision=plan.revision))
    entry = next((old for old in history if old.reading.token == typed.token), None)
    if entry is None:
        counting = store.entries(Wanted(step=step.id, revision=plan.revision))
        entry = store.correct(counting[-1].number, reading) if counting else store.add(reading)
    return _outcome(step, entry)


def _reading(plan: Plan, step: Step, typed: Typed) -> Reading:
    state = step.situation.name if step.situation else ""
    if typed.skipped:
        return Reading(
            TICK,
            words.SKIPPED,
            0.0,
            typed.who,
            plan.revision,
            "",
            step.id,
            "",
            typed.skipped,
            typed.at,
            None,
            typed.token,
        )
    value = understand(step, typed.text).value
    point = step.point.id if step.point else step.title
    read = Reading(step.quantity, point, value, typed.who, plan.revision, state, step.id)
    return replace(read, meter=typed.meter, note=typed.note, at=typed.at, token=typed.token)


def _outcome(step: Step, entry: Entry) -> Outcome:
    skipped = entry.reading.point == words.SKIPPED
    return Outcome(step, entry, None if skipped else judge(step, entry.reading.value or 0.0))
