"""`ohmstead what-if FILE OTHER` or `--set CHANGE`: what a change gains and costs."""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from typing import Any

from ..choose.compare import ChangeRefused, Comparison, Shift, changed_text, compare
from ..evidence.finding import Finding
from ..quantity.show import show
from ..site.edit import EditRefused
from ..site.read import read_site, read_text
from .as_json import VERSION, dump, finding_document
from .paper import Paper, columns, paper, wrapped
from .texts import HELP, SEVERITY, SIGN, WHAT_IF

UNUSABLE = 2


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("other", nargs="?", default="", help=WHAT_IF["other"])
    parser.add_argument("--set", dest="changes", metavar="CHANGE", action="append", default=[], help=WHAT_IF["set"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def run(options: Namespace) -> int:
    """Compare; 0 when the changed site is fine, 1 when it fails, 2 when there is nothing to compare."""
    if bool(options.other) == bool(options.changes):
        print(WHAT_IF["both" if options.other else "one"], file=sys.stderr)
        return UNUSABLE
    before = read_site(options.file)
    after = read_site(options.other) if options.other else before
    try:
        for change in options.changes:
            after = read_text(changed_text(after, change), options.file)
    except ChangeRefused as fault:
        print(f"{fault}\n   mend   {fault.mend}", file=sys.stderr)
        return UNUSABLE
    except EditRefused as fault:
        print(fault, file=sys.stderr)
        return UNUSABLE
    found = compare(before, after)
    if options.json:
        print(dump(document(found)))
    else:
        print("\n".join(lines(found, paper(options.colour))))
    return 0 if found.verdicts[1] == "fine" else 1


def lines(found: Comparison, sheet: Paper) -> Iterator[str]:
    """The comparison in words."""
    if not (found.gone or found.new or found.changed or found.shifts):
        yield WHAT_IF["nothing"]
        return
    for title, findings in (("gone", found.gone), ("new", found.new)):
        if findings:
            yield sheet.ink(WHAT_IF[title], "strong")
            for finding in findings:
                yield from _finding(finding, sheet)
    if found.changed:
        yield sheet.ink(WHAT_IF["changed"], "strong")
        for before, after in found.changed:
            yield from _finding(before, sheet)
            yield from wrapped(f"-> {after.message}", 7)
    if found.shifts:
        yield sheet.ink(WHAT_IF["numbers"], "strong")
        rows = [(s.subject, s.figure, _value(s, s.before), _value(s, s.after)) for s in found.shifts]
        yield from columns(("of", "what", WHAT_IF["before"], WHAT_IF["after"]), rows, right=(2, 3))
    yield WHAT_IF["verdict"].format(before=found.verdicts[0], after=found.verdicts[1])


def _value(shift: Shift, value: float | None) -> str:
    return "-" if value is None else show(value, shift.dimension)


def _finding(finding: Finding, sheet: Paper) -> Iterator[str]:
    word = sheet.ink(SEVERITY[finding.severity.value], finding.severity.value)
    yield f"{SIGN[finding.severity.value]} {word} {finding.rule}, {finding.subject}"
    yield from wrapped(finding.message, 7)


def document(found: Comparison) -> dict[str, Any]:
    """The comparison for other programs."""
    return {
        "ohmstead_json": VERSION,
        "verdict_before": found.verdicts[0],
        "verdict_after": found.verdicts[1],
        "gone": [finding_document(finding) for finding in found.gone],
        "new": [finding_document(finding) for finding in found.new],
        "changed": [{"before": finding_document(a), "after": finding_document(b)} for a, b in found.changed],
        "numbers": [
            {"subject": s.subject, "figure": s.figure, "dimension": s.dimension, "before": s.before, "after": s.after}
            for s in found.shifts
        ],
    }
