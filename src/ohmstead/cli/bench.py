"""`ohmstead bench FILE`: how to switch on, what the meter should read, and what it did read."""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from .. import open as open_site
from ..bench import words
from ..bench.figures import band_text, value_text
from ..bench.meter import HANDHELD, Meter, stated
from ..bench.parameters import Surroundings
from ..bench.plan import plan_of
from ..bench.step import Plan, Step
from ..quantity.faults import QuantityError
from ..quantity.read import read_number
from ..study import Study
from .as_json import VERSION, dump
from .bench_texts import BENCH, WALK
from .paper import Paper, columns, paper, wrapped
from .refusal import Refused
from .texts import CAUTIONS, CAUTIONS_TITLE, HELP, SHEETS

if TYPE_CHECKING:
    from ..bench.store import Store

FINE, FAILS, UNUSABLE = 0, 1, 2
LABEL = 10


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    stages = ", ".join(words.STAGES)
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("--walk", action="store_true", help=BENCH["walk"])
    parser.add_argument("--short", action="store_true", help=BENCH["short"])
    parser.add_argument("--stage", nargs="+", default=[], metavar="STAGE", help=BENCH["stage"].format(stages=stages))
    parser.add_argument("--battery", nargs="+", default=[], metavar="VOLTS", help=BENCH["battery"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])
    parser.add_argument("--csv", metavar="FILE", default="", help=BENCH["csv"])
    parser.add_argument("--sheet", metavar="DIR", default="", help=BENCH["sheet"])
    parser.add_argument("--record", metavar="DIR", default="", help=BENCH["record"])
    parser.add_argument("--as", metavar="FORMS", dest="forms", default="", help=BENCH["as"])
    parser.add_argument("--date", default="", help=SHEETS["date"])
    parser.add_argument("--revision", default="", help=SHEETS["revision"])
    parser.add_argument("--paper", choices=("A4", "Letter"), default="A4", help=SHEETS["paper"])
    parser.add_argument("--who", default="", help=BENCH["who"])
    parser.add_argument("--meter", default="", help=BENCH["meter"])
    parser.add_argument("--accuracy", default="", metavar="TEXT", help=BENCH["accuracy"])
    parser.add_argument("--large", choices=("auto", "always", "never"), default="auto", help=BENCH["large"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def run(options: Namespace) -> int:
    """Print the plan, or do with it what was asked."""
    try:
        study = open_site(options.file)
        _check_stages(options.stage)
        if options.walk:
            return _walk(study, options)
        meter = meter_of(options)
        plan = plan_of(study.operation, Surroundings(battery_v=_measured(study, options.battery)), meter)
        if options.csv:
            return _csv(plan, options.csv)
        if options.sheet or options.record:
            from .bench_paper import write

            return write(study, plan, options, meter)
    except Refused as refusal:
        problem, mend = refusal.args
        print(f"{problem}\n   mend   {mend}", file=sys.stderr)
        return UNUSABLE
    if options.json:
        print(dump(document(plan)))
        return FINE
    sheet = paper(options.colour)
    for line in told(plan, options.stage or list(words.STAGES), sheet, "short" if options.short else "long"):
        print(line)
    return FINE


def _check_stages(names: list[str]) -> None:
    for name in names:
        if name not in words.STAGES:
            stages = ", ".join(words.STAGES)
            raise Refused(BENCH["no-stage"].format(name=name), BENCH["no-stage-mend"].format(stages=stages))


def _measured(study: Study, wishes: list[str]) -> dict[str, float]:
    """Resting voltages as stated: one for all batteries, or NAME=VOLTS each. [V]"""
    known = list(study.site.batteries)
    found: dict[str, float] = {}
    for wish in wishes:
        name, sign, text = wish.rpartition("=")
        try:
            volts = read_number(text, "voltage")
        except QuantityError:
            volts = 0.0
        if volts <= 0.0 or (sign and name not in known):
            names = ", ".join(known)
            raise Refused(BENCH["no-battery"].format(text=wish), BENCH["no-battery-mend"].format(names=names))
        found |= dict.fromkeys([name] if sign else known, volts)
    return found


def meter_of(options: Namespace) -> Meter:
    """The meter as its accuracy was stated. Raises Refused."""
    try:
        return stated(options.accuracy) if options.accuracy else HANDHELD
    except ValueError as error:
        raise Refused(BENCH["no-accuracy"].format(text=error), BENCH["no-accuracy-mend"]) from None


def told(plan: Plan, stages: list[str], sheet: Paper, length: str) -> Iterator[str]:
    """The plan in words; `length` is "long" or "short"."""
    yield sheet.ink(BENCH["title"].format(site=plan.site), "title")
    share = f"{100 * plan.confidence_fraction:g} %"
    under = BENCH["under"].format(revision=plan.revision[:12], count=len(plan.steps), share=share, meter=plan.meter)
    yield from wrapped(under, 0)
    yield ""
    yield sheet.ink(CAUTIONS_TITLE, "strong")
    for caution in CAUTIONS:
        first, *rest = wrapped(caution, 4)
        yield f"  - {first.strip()}"
        yield from rest
    numbered = list(enumerate(plan.steps, 1))
    for stage in stages:
        steps = [(k, step) for k, step in numbered if step.stage == stage]
        if steps:
            yield ""
            yield sheet.ink(words.STAGES[stage], "title")
            yield sheet.rule()
            yield from _table(steps) if length == "short" else _full(steps, sheet)


def _table(steps: list[tuple[int, Step]]) -> Iterator[str]:
    rows = [(str(k), step.title, " ".join(step.marks), value_text(step), band_text(step)) for k, step in steps]
    yield from columns(BENCH["head"].split("|"), rows, right=(0, 3))


def _full(steps: list[tuple[int, Step]], sheet: Paper) -> Iterator[str]:
    for number, step in steps:
        yield f"{number:>4}  {sheet.ink(step.title, 'strong')}"
        read = f"{value_text(step)}   ({band_text(step)})" if value_text(step) else band_text(step)
        told_pairs = [("do", step.act), ("probes", step.probes), ("read", read)]
        if step.asks == "tick":
            told_pairs.append(("no", "; ".join(step.causes_high)))
        else:
            told_pairs += [("low", "; ".join(step.causes_low)), ("high", "; ".join(step.causes_high))]
        told_pairs += [("mind", caution) for caution in step.cautions]
        told_pairs.append(("after", step.basis))
        for label, text in told_pairs:
            if text:
                first, *rest = wrapped(text, 6 + LABEL)
                yield f"      {BENCH[label]:<{LABEL}}{first.strip()}"
                yield from rest
        yield ""


def document(plan: Plan) -> dict[str, Any]:
    """The plan for other programs, in SI units."""
    return {
        "ohmstead_json": VERSION,
        "site": plan.site,
        "revision": plan.revision,
        "confidence_fraction": plan.confidence_fraction,
        "meter": plan.meter,
        "marks": [dict(zip(("mark", "kind", "at"), entry, strict=True)) for entry in plan.marks],
        "steps": [
            {
                "id": step.id, "stage": step.stage, "title": step.title, "act": step.act, "probes": step.probes,
                "marks": list(step.marks), "asks": step.asks, "quantity": step.quantity, "value": step.value,
                "low": step.low, "high": step.high, "point": step.point.id if step.point else None,
                "situation": step.situation.name if step.situation else None, "causes_low": list(step.causes_low),
                "causes_high": list(step.causes_high), "cautions": list(step.cautions), "basis": step.basis,
            }
            for step in plan.steps
        ],
    }  # fmt: skip


def _csv(plan: Plan, path: str) -> int:
    from ..bench.blank import blank_csv

    try:
        Path(path).write_text(blank_csv(plan), encoding="utf-8", newline="")
    except OSError as error:
        raise Refused(*_cannot_write(path, error)) from None
    print(BENCH["wrote-csv"].format(count=len(plan.steps), file=path))
    return FINE


def _cannot_write(path: str, error: OSError) -> tuple[str, str]:
    return SHEETS["cannot-write"].format(file=path, reason=error.strerror), SHEETS["cannot-write-mend"]


def _walk(study: Study, options: Namespace) -> int:
    from shutil import get_terminal_size

    from ..bench.kept import keep_revision
    from ..bench.session import Session
    from ..bench.store import open_store, store_path
    from .bench_walk import Walk

    who = _who(options.who)
    with open_store(store_path(options.file)) as store:
        keep_revision(store, options.file, study.site.text)
        session = Session(study.operation, store, who, options.meter, meter_of(options))
        _greet(store, session.plan, len(session.outcomes()))
        wide = get_terminal_size().columns if options.large == "auto" and sys.stdout.isatty() else 0
        sheet = paper(options.colour)
        walk = Walk(session, _ask, print, sheet, 10_000 if options.large == "always" else wide)
        walk.run()
        stops = any(outcome.verdict and outcome.verdict.word == "stop" for outcome in session.outcomes())
        if stops:
            print(WALK["diagnose"].format(file=options.file))
        print(WALK["record"].format(file=options.file))
        return FAILS if stops else FINE


def _who(name: str) -> str:
    try:
        found = name.strip() or input(WALK["who"]).strip()
    except EOFError:
        found = ""
    if not found:
        raise Refused(WALK["no-who"], WALK["no-who-mend"])
    return found


def _ask(prompt: str) -> str:
    return input(prompt)


def _greet(store: "Store", plan: Plan, before: int) -> None:
    other = sum(entry.reading.revision != plan.revision for entry in store.entries())
    if other:
        print(WALK["old"].format(count=other))
    if before:
        print(WALK["resume"].format(count=before))
