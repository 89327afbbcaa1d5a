"""`ohmstead diagnose FILE`: what the stored readings together say is wrong, and what to read next."""

import os
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator, Sequence
from math import log2
from typing import TYPE_CHECKING, Any

from ..bench.figures import shown
from ..bench.plan import plan_of
from ..bench.reading import Entry
from ..bench.rows import Wanted, count
from ..bench.seen import Seen, seen
from ..bench.situation import Bench, bench_of
from ..bench.step import Plan
from ..bench.store import store_path, view_store
from ..study import open_site
from .as_json import VERSION, dump
from .paper import Paper, paper, wrapped
from .readings_texts import DIAGNOSE
from .refusal import Refused
from .texts import HELP

if TYPE_CHECKING:
    from ..bench.diagnosis import Diagnosis

FINE, FAILS, UNUSABLE = 0, 1, 2
MOST_LINES, MOST_CAUSES = 8, 4


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def run(options: Namespace) -> int:
    """0 when nothing seems to be wrong, 1 when something does, 2 when it cannot be told."""
    one_thread()
    study = open_site(options.file)
    bench, plan = bench_of(study.operation), plan_of(study.operation)
    entries, n_older = of_revision(options.file, plan)
    found = seen(bench, plan, entries)
    try:
        if not found.observations:
            raise Refused(DIAGNOSE["few"].format(count=len(entries), older=n_older), DIAGNOSE["few-mend"])
        diagnosis = diagnosed(bench, found)
    except Refused as refusal:
        problem, mend = refusal.args
        print(f"{problem}\n   mend   {mend}", file=sys.stderr)
        return UNUSABLE
    except ModuleNotFoundError:
        print(DIAGNOSE["needs"], file=sys.stderr)
        return UNUSABLE
    if options.json:
        print(dump(document(diagnosis, n_older, len(found.left_out))))
    else:
        sheet = paper(options.colour)
        print("\n".join(lines(diagnosis, study.site.about.name, sheet)))
        for key, count in (("older", n_older), ("left", len(found.left_out))):
            if count:
                print(DIAGNOSE[key].format(count=count))
    return FINE if diagnosis.verdict == "fine" else FAILS


def one_thread() -> None:
    """Small matrices are solved quickest by one thread; said before numpy is imported."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def of_revision(file: str, plan: Plan) -> tuple[tuple[Entry, ...], int]:
    """The readings taken against this text of the site file, and how many belong to others. Raises StoreError."""
    with view_store(store_path(file)) as store:
        own = store.entries(Wanted(revision=plan.revision))
        return own, count(store.connection) - len(own)


def diagnosed(bench: Bench, found: Seen) -> "Diagnosis":
    """The diagnosis. Raises ModuleNotFoundError where numpy is missing."""
    from ..bench.diagnose import diagnose

    return diagnose(bench, found.observations)


def lines(diagnosis: "Diagnosis", name: str, sheet: Paper) -> Iterator[str]:
    """The diagnosis in words."""
    from ..bench.in_words import differing_words, explanation_words, fault_words

    told = [explanation_words(e) for e in diagnosis.explanations]
    yield sheet.ink(DIAGNOSE["title"].format(site=name, count=diagnosis.n_reading), "title")
    yield sheet.rule()
    style = {"fine": "fine", "found": "fails", "unexplained": "tight"}[diagnosis.verdict]
    yield from (sheet.ink(line, style) for line in wrapped(DIAGNOSE[diagnosis.verdict], 0))
    for explanation, text in list(zip(diagnosis.explanations, told, strict=True))[:MOST_LINES]:
        if explanation.probability_fraction >= 0.005:
            yield from _item(_percent(explanation.probability_fraction), text)
    if any(len(e.faults) > 1 for e in diagnosis.explanations) and diagnosis.suspicions:
        yield ""
        yield sheet.ink(DIAGNOSE["suspicions"], "strong")
        for suspicion in diagnosis.suspicions[:MOST_LINES]:
            if suspicion.probability_fraction >= 0.005:
                yield from _item(_percent(suspicion.probability_fraction), fault_words(suspicion.fault))
    for group in diagnosis.alike[:1]:
        yield ""
        yield sheet.ink(DIAGNOSE["alike"], "strong")
        for words in differing_words([diagnosis.explanations[k] for k in group]):
            yield from _item("-", words)
    yield ""
    yield from _next(diagnosis, differing_words(diagnosis.explanations[:MOST_CAUSES]), sheet)
    yield ""
    yield from wrapped(DIAGNOSE["model"], 0)


def _next(diagnosis: "Diagnosis", told: Sequence[str], sheet: Paper) -> Iterator[str]:
    if len(diagnosis.explanations) < 2:
        return
    yield sheet.ink(DIAGNOSE["next"], "strong")
    left = -sum(p * log2(p) for e in diagnosis.explanations if (p := e.probability_fraction) > 0.0)
    if not diagnosis.next_readings:
        yield "  " + DIAGNOSE["none"]
    for reading in diagnosis.next_readings[:3]:
        point, state = reading.point, reading.situation.name
        text = DIAGNOSE["next-line"].format(point=point.id, state=state, bits=reading.bits, left=left)
        yield from _item("-", text)
        by_value: dict[str, list[str]] = {}
        for k, value in enumerate(reading.expected[:MOST_CAUSES]):
            if value is not None:
                by_value.setdefault(shown(value, point.dimension), []).append(told[k])
        for value_text, causes in by_value.items():
            more = DIAGNOSE["more"].format(count=len(causes) - 1) if causes[1:] else ""
            yield from wrapped(DIAGNOSE["would"].format(value=value_text, words=causes[0]) + more, 10)


def _item(mark: str, text: str) -> Iterator[str]:
    first, *rest = wrapped(text, 10)
    yield f"  {mark:>6}  {first.strip()}"
    yield from rest


def _percent(fraction: float) -> str:
    return f"{100 * fraction:.0f} %" if 0.01 <= fraction <= 0.99 else "> 99 %" if fraction > 0.99 else "< 1 %"


def document(diagnosis: "Diagnosis", n_older: int, n_left: int) -> dict[str, Any]:
    """The diagnosis for other programs."""
    from dataclasses import asdict

    from ..bench.in_words import explanation_words

    return {
        "ohmstead_json": VERSION,
        "verdict": diagnosis.verdict,
        "n_reading": diagnosis.n_reading,
        "n_older": n_older,
        "n_left_out": n_left,
        "explanations": [
            {"words": explanation_words(e), "probability_fraction": e.probability_fraction, "misfit": e.misfit,
             "faults": [asdict(fault) for fault in e.faults]}
            for e in diagnosis.explanations
        ],
        "suspicions": [
            {"probability_fraction": s.probability_fraction, **asdict(s.fault)} for s in diagnosis.suspicions
        ],
        "alike": [list(group) for group in diagnosis.alike],
        "next_readings": [
            {"point": r.point.id, "state": r.situation.name, "bits": r.bits, "expected": list(r.expected),
             "dimension": r.point.dimension}
            for r in diagnosis.next_readings
        ],
    }  # fmt: skip
