"""The commissioning record: plan, readings, verdicts, open points, signatures."""

from collections.abc import Sequence

from ...bench import words as bench_words
from ...bench.figures import band_text, shown_at, value_text
from ...bench.session import Outcome
from ...bench.step import Plan, Step
from ..asked import Asked
from ..document import Block, Caution, Document, Heading, Table, Terms, Text
from ..switch_on import probe_pictures, signatures
from . import words

NAME = "commissioning-record"
WIDTHS = (0.04, 0.24, 0.08, 0.12, 0.08, 0.08, 0.07, 0.12, 0.17)


def record_sheet(asked: Asked, terms: Terms, plan: Plan, outcomes: Sequence[Outcome]) -> Document:
    """The record of what was answered so far, against a plan of the same text of the site file."""
    by_step = {outcome.step.id: outcome for outcome in outcomes}
    blocks: list[Block] = [
        Text(words.RECORD_LEAD),
        Caution(words.CAUTION_TITLE, words.RECORD_CAUTION),
        Heading(words.SUMMARY),
        _summary(plan, outcomes),
        Heading(words.OPEN),
        *_open_points(plan, by_step),
        Heading(words.SIGNED),
        signatures(),
        Heading(words.DRAWING),
        *probe_pictures(asked, terms),
    ]
    numbered = list(enumerate(plan.steps, 1))
    for stage, title in bench_words.STAGES.items():
        rows = [(number, step) for number, step in numbered if step.stage == stage]
        if rows:
            blocks += [Heading(title), _readings(stage, rows, by_step)]
    return Document(NAME, words.RECORD_TITLE, tuple(blocks), "sideways")


def _word(outcome: Outcome) -> str:
    return outcome.verdict.word if outcome.verdict else ""


def _summary(plan: Plan, outcomes: Sequence[Outcome]) -> Table:
    words_found = [_word(outcome) for outcome in outcomes]
    readings = [outcome.entry.reading for outcome in outcomes]
    moments = sorted(reading.at for reading in readings if reading.at)
    rested = [o for o in outcomes if o.step.id.startswith("battery.rest.") and o.verdict is not None]
    figures = {
        "steps": str(len(plan.steps)),
        "good": str(words_found.count("good")),
        "look": str(words_found.count("look")),
        "stop": str(words_found.count("stop")),
        "skipped": str(words_found.count("")),
        "left": str(len(plan.steps) - len(outcomes)),
        "revision": plan.revision,
        "meters": ", ".join(sorted({reading.meter for reading in readings if reading.meter})) or words.NONE,
        "people": ", ".join(sorted({reading.who for reading in readings})) or words.NONE,
        "span": " … ".join(dict.fromkeys((_when(moments[0]), _when(moments[-1])))) if moments else words.NONE,
        "bands": ", ".join(shown_at(o.step, o.entry.reading.value or 0.0) for o in rested) or words.NONE,
    }
    rows = tuple((words.SUMMARY_ROWS[key], text) for key, text in figures.items())
    return Table("commissioning-summary", words.SUMMARY_HEAD, rows, "ll", widths=(0.35, 0.65))


def _open_points(plan: Plan, by_step: dict[str, Outcome]) -> list[Block]:
    rows = []
    for number, step in enumerate(plan.steps, 1):
        outcome = by_step.get(step.id)
        if outcome is None:
            continue
        if outcome.verdict is None:
            rows.append((str(number), step.title, words.VERDICTS[""], outcome.entry.reading.note))
        elif outcome.verdict.word != "good":
            side = bench_words.SIDES[outcome.verdict.side]
            said = f"{words.VERDICTS[outcome.verdict.word]}: {_read(step, outcome)} {side}".rstrip()
            causes = outcome.entry.reading.note or "; ".join(outcome.verdict.causes)
            rows.append((str(number), step.title, said, causes))
    left = [str(number) for number, step in enumerate(plan.steps, 1) if step.id not in by_step]
    if left:
        rows.append(("", _ranges(left), words.UNANSWERED, ""))
    if not rows:
        return [Text(words.NO_OPEN)]
    return [Table("commissioning-open", words.OPEN_HEAD, tuple(rows), "rlll", widths=(0.05, 0.35, 0.2, 0.4))]


def _ranges(numbers: list[str]) -> str:
    """Numbers with runs of them joined: "1-4, 7".

    >>> _ranges(["1", "2", "3", "7"])
    '1-3, 7'
    """
    found: list[list[int]] = []
    for number in map(int, numbers):
        if found and found[-1][1] == number - 1:
            found[-1][1] = number
        else:
            found.append([number, number])
    return ", ".join(str(first) if first == last else f"{first}-{last}" for first, last in found)


def _read(step: Step, outcome: Outcome) -> str:
    return shown_at(step, outcome.entry.reading.value or 0.0)


def _when(at: str) -> str:
    """A moment to the minute.

    >>> _when("2026-11-27T09:14:31Z")
    '2026-11-27 09:14'
    """
    return at[:16].replace("T", " ")


def _readings(stage: str, rows: list[tuple[int, Step]], by_step: dict[str, Outcome]) -> Table:
    printed = []
    for number, step in rows:
        outcome = by_step.get(step.id)
        expect = (str(number), step.title, value_text(step), "" if step.asks == "tick" else band_text(step))
        if outcome is None:
            printed.append((*expect, "", words.UNANSWERED, "", "", ""))
            continue
        reading = outcome.entry.reading
        read = "" if outcome.verdict is None else _read(step, outcome)
        printed.append((*expect, read, words.VERDICTS[_word(outcome)], reading.who, _when(reading.at), reading.note))
    return Table(
        f"commissioning-{stage}", words.RECORD_HEAD, tuple(printed), "rlrlrllll", widths=WIDTHS
    )  # fmt: skip
