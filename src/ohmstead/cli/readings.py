"""`ohmstead readings FILE`: enter, correct, list, read in and write out what was read at the bench."""

import sys
from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..bench import words
from ..bench.figures import band_text, shown, understand
from ..bench.judge import judge
from ..bench.kept import attach, keep_revision
from ..bench.on_paper import as_csv, as_json, read_sheet
from ..bench.plan import plan_of
from ..bench.reading import TICK, Entry, Reading, utc
from ..bench.rows import Wanted, rescued
from ..bench.seen import point_of
from ..bench.situation import bench_of
from ..bench.store import open_store, store_path, view_store
from ..quantity.faults import QuantityError
from ..quantity.read import read_number
from ..site.problems import render
from ..site.source import load
from ..study import Study, open_site
from .as_json import VERSION, dump
from .paper import columns
from .readings_texts import READINGS
from .refusal import Refused
from .texts import HELP

if TYPE_CHECKING:
    from ..bench.step import Plan, Step

FINE, FAILS, UNUSABLE = 0, 1, 2
WORK = ("add", "withdraw", "import_", "export", "rescue")


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("--add", nargs="+", metavar="VALUE", help=READINGS["add"])
    for name in ("step", "point", "state", "who", "meter", "note", "at", "photo", "because"):
        parser.add_argument(f"--{name}", default="", help=READINGS[name])
    parser.add_argument("--correct", type=int, metavar="NUMBER", help=READINGS["correct"])
    parser.add_argument("--withdraw", type=int, metavar="NUMBER", help=READINGS["withdraw"])
    parser.add_argument("--import", dest="import_", metavar="CSV", default="", help=READINGS["import"])
    parser.add_argument("--keep-good", action="store_true", help=READINGS["keep-good"])
    parser.add_argument("--export", metavar="FILE", default="", help=READINGS["export"])
    parser.add_argument("--rescue", metavar="CSV", default="", help=READINGS["rescue"])
    parser.add_argument("--all", action="store_true", help=READINGS["all"])
    parser.add_argument("--newest", type=int, default=40, metavar="N", help=READINGS["newest"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])


def run(options: Namespace) -> int:
    """Do the one thing asked for; without a wish list the newest readings."""
    asked = [name for name in WORK if getattr(options, name)]
    try:
        if len(asked) > 1:
            names = ", ".join(f"--{name.strip('_')}" for name in asked)
            raise Refused(READINGS["two"].format(names=names), READINGS["two-mend"])
        work = {"add": _add, "withdraw": _withdraw, "import_": _import, "export": _export, "rescue": _rescue}
        return work[asked[0]](options) if asked else _list(options)
    except Refused as refusal:
        problem, mend = refusal.args
        print(f"{problem}\n   mend   {mend}", file=sys.stderr)
        return UNUSABLE


def _add(options: Namespace) -> int:
    study = open_site(options.file)
    plan = plan_of(study.operation)
    step = _step(plan, options.step) if options.step else None
    reading = _reading(study, plan, step, options)
    picture = _bytes(options.photo) if options.photo else b""
    with open_store(store_path(options.file)) as store:
        keep_revision(store, options.file, study.site.text)
        entry = store.add(reading) if options.correct is None else store.correct(options.correct, reading)
        if picture:
            attach(store, entry.number, Path(options.photo).name, picture, options.who)
    verdict = judge(step, reading.value or 0.0) if step else None
    if options.json:
        print(dump({"ohmstead_json": VERSION, **entry_document(entry), "verdict": verdict.word if verdict else None}))
    else:
        print(READINGS["stored"].format(number=entry.number, text=value_text(entry)))
        if verdict and step:
            print(READINGS[verdict.word].format(band=band_text(step)))
            if verdict.causes:
                print(READINGS["causes"].format(causes="; ".join(verdict.causes)))
    return FAILS if verdict and verdict.word == "stop" else FINE


def _step(plan: "Plan", name: str) -> "Step":
    try:
        return plan.step(name)
    except KeyError:
        from difflib import get_close_matches

        near = get_close_matches(name, [step.id for step in plan.steps], n=3, cutoff=0.3)
        names = ", ".join(near or [plan.steps[0].id])
        raise Refused(READINGS["no-step"].format(name=name), READINGS["no-step-mend"].format(names=names)) from None


def _reading(study: Study, plan: "Plan", step: "Step | None", options: Namespace) -> Reading:
    typed = " ".join(options.add)
    if not options.who:
        raise Refused(READINGS["no-who"], READINGS["no-who-mend"])
    try:
        at = utc(options.at) if options.at else ""
        if step is not None:
            quantity, value = step.quantity, understand(step, typed).value
            point, state = step.point.id if step.point else step.title, step.situation.name if step.situation else ""
        else:
            point, state = options.point, options.state
            quantity = _quantity(study, plan, point, state)
            value = read_number(typed.replace(",", "."), quantity)
    except QuantityError as error:
        text = READINGS["unreadable"].format(text=typed, problem=error.problem)
        raise Refused(text, error.mend) from None
    except ValueError as error:
        text = READINGS["unreadable"].format(text=typed, problem=error)
        raise Refused(text, READINGS["unreadable-mend"].format(example="23 mA")) from None
    return Reading(
        quantity,
        point,
        value,
        options.who,
        plan.revision,
        state,
        step.id if step else "",
        options.meter,
        options.note,
        at,
    )


def _quantity(study: Study, plan: "Plan", point: str, state: str) -> str:
    """The dimension of a point that is no step of the plan; both names must be known."""
    if not point:
        raise Refused(READINGS["no-place"], READINGS["no-place-mend"])
    found = point_of(bench_of(study.operation), point)
    if found is None:
        raise Refused(READINGS["no-point"].format(name=point), READINGS["no-point-mend"])
    names = dict.fromkeys(step.situation.name for step in plan.steps if step.situation)
    if state not in names:
        raise Refused(READINGS["no-state"].format(name=state), READINGS["no-state-mend"].format(names=", ".join(names)))
    return found.dimension


def _bytes(path: str) -> bytes:
    try:
        return Path(path).read_bytes()
    except OSError as error:
        raise Refused(READINGS["cannot-read"].format(file=path, reason=error.strerror), READINGS["file-mend"]) from None


def _withdraw(options: Namespace) -> int:
    if not options.who:
        raise Refused(READINGS["no-who"], READINGS["no-who-mend"])
    with open_store(store_path(options.file)) as store:
        entry = store.withdraw(options.withdraw, options.who, options.because)
    said = READINGS["withdrawn"].format(number=options.withdraw, by=entry.number, because=options.because)
    print(dump({"ohmstead_json": VERSION, **entry_document(entry)}) if options.json else said)
    return FINE


def _import(options: Namespace) -> int:
    study = open_site(options.file)
    sheet = read_sheet(load(options.import_), options.import_, plan_of(study.operation), options.who)
    stored = sheet.readings if options.keep_good or not sheet.problems else ()
    with open_store(store_path(options.file)) as store:
        keep_revision(store, options.file, study.site.text)
        last = max((entry.number for entry in store.entries(Wanted("all", newest=1))), default=0)
        entries = store.add_all(stored)
    new = sum(entry.number > last for entry in entries)
    if sheet.problems:
        print(render(sheet.problems, sheet.text), file=sys.stderr)
        key = "bad-rows-kept" if options.keep_good else "bad-rows"
        print(READINGS[key].format(bad=len(sheet.problems)), file=sys.stderr)
    counts = {"new": new, "known": len(entries) - new, "empty": sheet.n_empty}
    if options.json:
        print(dump({"ohmstead_json": VERSION, **counts, "bad": len(sheet.problems)}))
    elif stored or not sheet.problems:
        print(READINGS["imported"].format(**counts))
    return UNUSABLE if sheet.problems else FINE


def _export(options: Namespace) -> int:
    form = Path(options.export).suffix.lower()
    if form not in (".csv", ".json"):
        raise Refused(READINGS["no-form"].format(file=options.export), READINGS["no-form-mend"])
    with view_store(store_path(options.file)) as store:
        entries = store.entries(Wanted("all" if options.all else "now"))
    _write(options.export, "".join(as_csv(entries) if form == ".csv" else as_json(entries)))
    print(READINGS["exported"].format(count=len(entries), file=options.export))
    return FINE


def _rescue(options: Namespace) -> int:
    with view_store(store_path(options.file)) as store:
        entries = list(rescued(store.connection))
    _write(options.rescue, "".join(as_csv(entries)))
    print(READINGS["rescued"].format(count=len(entries), file=options.rescue))
    return FINE


def _write(path: str, text: str) -> None:
    if Path(path).exists():
        raise Refused(READINGS["exists"].format(file=path), READINGS["exists-mend"])
    try:
        Path(path).write_text(text, encoding="utf-8", newline="")
    except OSError as error:
        raise Refused(
            READINGS["cannot-write"].format(file=path, reason=error.strerror), READINGS["file-mend"]
        ) from None


def _list(options: Namespace) -> int:
    wanted = Wanted("all" if options.all else "now", newest=0 if options.all or options.json else options.newest)
    with view_store(store_path(options.file)) as store:
        entries = store.entries(wanted)
    if options.json:
        print(dump({"ohmstead_json": VERSION, "readings": [entry_document(entry) for entry in entries]}))
        return FINE
    rows = [_row(entry) for entry in entries]
    print("\n".join(columns(READINGS["head"].split("|"), rows, right=(0, 5)) if rows else [READINGS["none"]]))
    return FINE


def _row(entry: Entry) -> tuple[str, ...]:
    r = entry.reading
    when = r.at.replace("T", " ").removesuffix("Z")[:16]
    return str(entry.number), when, r.who, r.point[:44], r.state[:32], value_text(entry)


def value_text(entry: Entry) -> str:
    """The reading with its unit, a tick, or why it was withdrawn."""
    r = entry.reading
    if r.value is None:
        text = READINGS["withdrawal"].format(note=r.note)
    elif r.quantity == TICK:
        text = words.TICK if r.value else words.CROSS
    else:
        text = shown(r.value, r.quantity)
    return READINGS["corrects"].format(number=entry.corrects, text=text) if entry.corrects else text


def entry_document(entry: Entry) -> dict[str, Any]:
    """One reading for other programs, in base units."""
    from dataclasses import asdict

    rest = {
        "number": entry.number,
        "entered": entry.entered,
        "corrects": entry.corrects or None,
        "pictures": entry.pictures,
    }
    return {**rest, **asdict(entry.reading)}
