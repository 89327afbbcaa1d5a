"""`ohmstead learn FILE`: what the readings say about the parts, proposed as measured values in the site file."""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from difflib import unified_diff
from typing import TYPE_CHECKING, Any

from ..bench.figures import shown
from ..bench.plan import plan_of
from ..bench.seen import Seen, seen
from ..bench.situation import Bench, bench_of
from ..network.operate import operate
from ..site.edit import EditRefused, save
from ..site.read import read_text
from ..study import Study, open_site
from .as_json import VERSION, dump
from .diagnose import of_revision, one_thread
from .paper import Paper, columns, paper
from .readings_texts import DIAGNOSE, LEARN
from .refusal import Refused
from .texts import HELP

if TYPE_CHECKING:
    from ..bench.learn import Lesson
    from ..bench.proposals import Change

FINE, FAILS, UNUSABLE = 0, 1, 2


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("--write", action="store_true", help=LEARN["write"])
    parser.add_argument("--date", default="", help=LEARN["date"])
    parser.add_argument("--least", type=float, default=1.5, metavar="FACTOR", help=LEARN["least"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def run(options: Namespace) -> int:
    """0 when done, 1 when a fault has to be mended first, 2 when it cannot be done."""
    one_thread()
    try:
        return _learn(open_site(options.file), options)
    except Refused as refusal:
        problem, mend = refusal.args
        print(f"{problem}\n   mend   {mend}", file=sys.stderr)
        return UNUSABLE
    except ModuleNotFoundError:
        print(LEARN["needs"], file=sys.stderr)
        return UNUSABLE


def _learn(study: Study, options: Namespace) -> int:
    bench, plan = bench_of(study.operation), plan_of(study.operation)
    entries, n_older = of_revision(options.file, plan)
    found = seen(bench, plan, entries)
    if not found.observations:
        raise Refused(DIAGNOSE["few"].format(count=len(entries), older=n_older), DIAGNOSE["few-mend"])
    from ..bench.learn import learn
    from ..bench.proposals import changes_of, written

    lesson = learn(bench, found.observations)
    if lesson.faults:
        from ..bench.in_words import fault_words

        words = "; ".join(map(fault_words, lesson.faults))
        print(LEARN["faulty"].format(words=words), file=sys.stderr)
        print(f"   mend   {LEARN['faulty-mend'].format(file=options.file)}", file=sys.stderr)
        return FAILS
    used = {o.number for o in found.observations}
    date = options.date or max(entry.reading.at[:10] for entry in entries if entry.number in used)
    changes = changes_of(bench, lesson, options.least)
    before = study.site.text
    try:
        after = written(study.site, changes, LEARN["said"].format(date=_checked(date)))
    except EditRefused as fault:
        raise Refused(LEARN["not-written"].format(reason=fault), LEARN["changed"]) from None
    difference = "\n".join(
        unified_diff(
            before.splitlines(), after.splitlines(), options.file, f"{options.file} (measured)", lineterm="", n=1
        )
    )
    share = narrower(bench, after, found) if changes else 0.0
    if options.json:
        print(dump(document(lesson, changes, difference, share)))
    else:
        print("\n".join(lines(study.site.about.name, found, changes, (difference, share), paper(options.colour))))
    if not changes:
        return FINE
    if options.write:
        return _write(options.file, before, after)
    if not options.json:
        print(LEARN["hint"].format(file=options.file))
    return FINE


def _checked(date: str) -> str:
    from datetime import date as Date

    try:
        return Date.fromisoformat(date).isoformat()
    except ValueError:
        raise Refused(LEARN["bad-date"].format(date=date), LEARN["bad-date-mend"]) from None


def narrower(bench: Bench, after: str, found: Seen) -> float:
    """By which share the bands of the readings become narrower in the mean with the new text of the site file."""
    from ..bench.expect import expectations

    again = bench_of(operate(read_text(after)), bench.surroundings, bench.meter)
    ratios = []
    by_state = {o.situation.name: o.situation for o in found.observations}
    for name, situation in by_state.items():
        points = [o.point for o in found.observations if o.situation.name == name]
        pairs = zip(expectations(bench, situation, points), expectations(again, situation, points), strict=True)
        ratios += [(new.high - new.low) / (old.high - old.low) for old, new in pairs]
    return 1.0 - sum(ratios) / len(ratios)


def lines(
    name: str, found: Seen, changes: "tuple[Change, ...]", told: tuple[str, float], sheet: Paper
) -> Iterator[str]:
    """What was learned in words; `told` is the difference and by how much bands become narrower."""
    difference, share = told
    yield sheet.ink(LEARN["title"].format(site=name, count=len(found.observations)), "title")
    yield sheet.rule()
    if not changes:
        yield LEARN["nothing"]
        return
    rows = [_row(change) for change in changes if not change.silent]
    yield from columns(LEARN["head"].split("|"), rows, right=(1, 2, 3))
    yield LEARN["tighter"].format(share=f"{100 * share:.0f} %")
    yield ""
    yield sheet.ink(LEARN["diff-title"], "strong")
    yield difference
    yield ""


def _row(change: "Change") -> tuple[str, str, str, str]:
    one = change.learned
    before = f"{shown(one.before_value, one.dimension)} ± {shown(2 * one.before_uncertainty, one.dimension)}"
    after = f"{shown(one.value, one.dimension)} ± {shown(2 * one.uncertainty, one.dimension)}"
    return one.parameter, before, after, f"{one.ratio:.1f}×"


def _write(file: str, before: str, after: str) -> int:
    read_text(after, file)
    try:
        save(file, before, after)
    except EditRefused as fault:
        print(LEARN["not-written"].format(reason=fault), file=sys.stderr)
        return UNUSABLE
    print(LEARN["written"].format(file=file), file=sys.stderr)
    return FINE


def document(lesson: "Lesson", changes: "tuple[Change, ...]", difference: str, share: float) -> dict[str, Any]:
    """What was learned for other programs; uncertainties are standard deviations in base units."""
    from dataclasses import asdict

    return {
        "ohmstead_json": VERSION,
        "learned": [asdict(one) for one in lesson.learned],
        "changes": [{"subject": c.subject, "path": list(c.steps), "text": c.text} for c in changes],
        "difference": difference,
        "narrower_fraction": share,
    }
