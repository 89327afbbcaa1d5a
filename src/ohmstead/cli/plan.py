"""`ohmstead plan FILE`: where parts stand on the plate, how long wires are; draws it, and writes it with `--write`."""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from ..evidence.finding import Finding, Severity
from ..plan.apply import difference, written
from ..plan.plan import Plan, plan_of
from ..quantity.show import show
from ..site.edit import EditRefused, save
from ..site.model import Site
from ..site.read import read_site, read_text
from ..study import Study
from .as_json import VERSION, dump, finding_document
from .paper import Paper, paper
from .plan_texts import PLAN
from .report import finding_lines
from .texts import HELP

FITS, FAILS, UNUSABLE = 0, 1, 2
RULES = (
    "duct-too-full",
    "bend-too-tight",
    "plug-not-reachable",
    "part-does-not-fit",
    "part-crowded",
    "low-voltage-beside-mains",
)
SHEETS = ("plate-plan", "drilling")
GRAVE = (Severity.DANGER, Severity.FAILS)


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("--out", metavar="DIR", default="", help=PLAN["out"])
    parser.add_argument("--paper", choices=("A4", "Letter"), default="A4", help=PLAN["paper"])
    parser.add_argument("--write", action="store_true", help=PLAN["write"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def run(options: Namespace) -> int:
    """Make the plan; 0 when it can be drilled, 1 when something speaks against it, 2 when there is none."""
    site = read_site(options.file)
    if site.plate is None:
        print(f"{PLAN['none'].format(file=options.file)}\n   mend   {PLAN['none-mend']}", file=sys.stderr)
        return UNUSABLE
    plan = plan_of(site)
    study = Study(site)
    findings = tuple(one for one in study.findings if one.rule in RULES)
    after = written(site, plan)
    changes = difference(site.text, after, options.file)
    if options.json:
        print(dump(document(plan, findings, options.file, changes)))
    else:
        print("\n".join(lines(study, plan, findings, changes, paper(options.colour))))
    if options.out and not _draw(study, options):
        return UNUSABLE
    if options.write and changes:
        return _write(site, after, options.file, findings)
    if changes and not options.json:
        print(PLAN["hint"].format(file=options.file))
    return _status(findings)


def _status(findings: tuple[Finding, ...]) -> int:
    return FAILS if any(one.severity in GRAVE and not one.accepted for one in findings) else FITS


def _write(site: Site, after: str, file: str, findings: tuple[Finding, ...]) -> int:
    read_text(after, file)
    try:
        save(file, site.text, after)
    except EditRefused as fault:
        print(PLAN["not-written"].format(reason=fault), file=sys.stderr)
        return UNUSABLE
    print(PLAN["written"].format(file=file), file=sys.stderr)
    return _status(findings)


def _draw(study: Study, options: Namespace) -> bool:
    """The two sheets as files; the answer is whether they could be written."""
    from ..sheets.catalogue import draw_all
    from ..sheets.document import Terms
    from ..sheets.render.pack import missing, pack

    terms = Terms(paper=options.paper)
    lacking = missing(("pdf",))
    forms = ("html", "svg") if lacking else ("html", "svg", "pdf")
    files = pack(study, terms, draw_all(study, terms, SHEETS), forms)
    folder = Path(options.out)
    try:
        for name, data in files.items():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            (folder / name).write_bytes(data)
    except OSError as fault:
        print(PLAN["cannot-write"].format(file=fault.filename, reason=fault.strerror), file=sys.stderr)
        return False
    print(PLAN["drawn"].format(count=len(files), out=options.out), file=sys.stderr)
    if lacking:
        print(PLAN["no-pdf"], file=sys.stderr)
    return True


def lines(study: Study, plan: Plan, findings: tuple[Finding, ...], changes: str, sheet: Paper) -> Iterator[str]:
    """The plan in words."""
    yield sheet.ink(PLAN["parts"], "strong")
    width = max((len(stand.name) for stand in plan.stands), default=0)
    for stand in plan.stands:
        told = [PLAN["part"].format(right=stand.corner[0], down=stand.corner[1])]
        told += [PLAN["turned"].format(deg=90 * stand.turns)] if stand.turns else []
        told.append(PLAN["found" if stand.body.fixed is None else "stated"])
        told += [PLAN["generic"]] if "size" in stand.body.assumed else []
        yield f"  {stand.name:<{width}}  {', '.join(told)}"
    yield from _wire_lines(plan, sheet)
    if plan.fills:
        yield sheet.ink(PLAN["ducts"], "strong")
        limit = show(plan.fill_limit, "share") + (f", {plan.fill_named}" if plan.fill_named else "")
        for fill in plan.fills:
            share = show(fill.fraction, "share", 2)
            yield f"  {fill.duct.name:<10}  {PLAN['duct'].format(share=share, limit=limit)}"
    how = plan.layout.how
    yield (
        PLAN["stated-quality"] if how == "stated" else PLAN[how].format(gap=show(plan.layout.gap_fraction, "share", 2))
    )
    yield ""
    if findings:
        yield sheet.ink(PLAN["findings"], "strong")
        for finding in findings:
            yield from finding_lines(study, finding, sheet)
    else:
        yield PLAN["nothing"]
    if changes:
        yield ""
        yield sheet.ink(PLAN["diff"], "strong")
        yield changes


def _wire_lines(plan: Plan, sheet: Paper) -> Iterator[str]:
    inside = [led for led in plan.wires if led.entries == ("", "")]
    if inside:
        yield sheet.ink(PLAN["wires"], "strong")
    width = max((len(led.name) for led in inside), default=0)
    for led in inside:
        run = led.link.cord.run
        origin = run.origin_of("length_m")
        told = PLAN["from-plan"] if origin == "plan" else PLAN["in-file"].format(length=show(run.length_m, "length"))
        yield f"  {led.name:<{width}}  {show(led.length_m, 'length')}, {told}"
    if len(inside) < len(plan.wires):
        yield "  " + PLAN["beyond"].format(count=len(plan.wires) - len(inside))


def document(plan: Plan, findings: tuple[Finding, ...], file: str, changes: str) -> dict[str, Any]:
    """The plan for programs; the shape stands in docs/json.md."""
    return {
        "ohmstead_json": VERSION,
        "file": file,
        "plate_mm": list(plan.problem.plate.size_mm),
        "how": plan.layout.how,
        "cost": plan.layout.cost,
        "gap_fraction": plan.layout.gap_fraction,
        "parts": [
            {
                "name": stand.name,
                "at_mm": list(stand.corner),
                "turned_deg": 90 * stand.turns,
                "size_mm": [*stand.body.size(stand.turns), stand.body.depth],
                "holes_mm": [list(hole) for hole in stand.holes()],
                "hole_mm": stand.body.hole,
                "assumed": list(stand.body.assumed),
            }
            for stand in plan.stands
        ],
        "ducts": [
            {
                "name": fill.duct.name,
                "box_mm": list(fill.duct.box),
                "fill_fraction": fill.fraction,
                "limit": plan.fill_limit,
            }
            for fill in plan.fills
        ],
        "wires": [
            {
                "run": led.name,
                "spots_mm": [list(spot) for spot in led.spots],
                "way_mm": led.way_mm,
                "rise_mm": led.rise_mm,
                "length_m": led.length_m,
                "entries": [entry for entry in led.entries if entry],
            }
            for led in plan.wires
        ],
        "findings": [finding_document(one) for one in findings],
        "changes": changes,
    }
