"""`ohmstead choose FILE`: choose what the site file leaves open; write it only with `--write`."""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from typing import Any

from ..choose.apply import difference, written
from ..choose.cabinet.left import left_open
from ..choose.choice import Choice
from ..choose.decide import Proposal, decide
from ..quantity.show import show
from ..site.edit import EditRefused, save
from ..site.read import read_site, read_text
from .as_json import VERSION, dump, finding_document
from .paper import Paper, paper, wrapped
from .texts import CHOOSE, HELP

FITS, FAILS, UNUSABLE = 0, 1, 2


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("--prices", metavar="LIST", default="", help=CHOOSE["prices"])
    parser.add_argument("--write", action="store_true", help=CHOOSE["write"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def run(options: Namespace) -> int:
    """Choose, tell why, show the difference; 0 when all fits, 1 when not, 2 when it cannot be tried."""
    site = read_site(options.file)
    try:
        stock = None
        if options.prices:
            from ..choose.prices import read_prices

            stock = read_prices(options.prices)
        proposal = decide(site, stock)
    except ModuleNotFoundError as missing:
        print(f"{missing}\n   mend   {CHOOSE['needs']}", file=sys.stderr)
        return UNUSABLE
    after = written(site.text, proposal.choices) if proposal.verdict == "fits" else site.text
    changes = difference(site.text, after, options.file)
    if options.json:
        print(dump(document(proposal, options.file, changes)))
    else:
        print("\n".join(lines(proposal, options.file, changes, paper(options.colour))))
    if proposal.verdict != "fits":
        return FAILS
    if options.write and changes:
        return _write(options.file, site.text, after, proposal)
    if changes and not options.json:
        print(CHOOSE["write-hint"].format(file=options.file))
    return _status(proposal)


def _status(proposal: Proposal) -> int:
    return FAILS if proposal.left or proposal.unknown else FITS


def _write(file: str, before: str, after: str, proposal: Proposal) -> int:
    read_text(after, file)
    try:
        save(file, before, after)
    except EditRefused as fault:
        print(CHOOSE["not-written"].format(reason=fault), file=sys.stderr)
        return UNUSABLE
    print(CHOOSE["written"].format(file=file), file=sys.stderr)
    return _status(proposal)


def lines(proposal: Proposal, file: str, changes: str, sheet: Paper) -> Iterator[str]:
    """The proposal in words."""
    if proposal.clashes:
        title = CHOOSE["clash-one"] if len(proposal.clashes) == 1 else CHOOSE["clash-title"]
        yield sheet.ink(title, "fails")
        for clash in proposal.clashes:
            first, *rest = wrapped(f"{clash.words} ({clash.rule})", 4)
            yield f"  - {first.strip()}"
            yield from rest
        return
    boxes = left_open(proposal.site)
    if boxes:
        yield CHOOSE["boxes-open"].format(file=file, names=", ".join(boxes))
    elif not proposal.choices:
        yield CHOOSE["nothing-open"].format(file=file)
    for choice in proposal.choices:
        yield f"{sheet.ink(choice.subject, 'strong')}  {choice.attribute}: {sheet.ink(choice.text, 'title')}"
        yield from wrapped(why(choice), 4)
    if proposal.choices:
        yield ""
        yield total(proposal)
        yield quality(proposal)
    if proposal.left:
        yield ""
        yield sheet.ink(CHOOSE["left-title"], "fails")
        for finding in proposal.left:
            yield from wrapped(f"{finding.message} ({finding.rule}, line {finding.place.line})", 4)
    if proposal.unknown:
        yield ""
        yield sheet.ink(CHOOSE["unknown-title"], "fails")
        for clash in proposal.unknown:
            yield from wrapped(f"{clash.subject}: {clash.words}", 4)
    if proposal.near and proposal.choices:
        yield ""
        yield sheet.ink(CHOOSE["near-title"], "tight")
        for finding in proposal.near:
            yield from wrapped(f"{finding.message} ({finding.rule}, line {finding.place.line})", 4)
    if changes:
        yield ""
        yield sheet.ink(CHOOSE["diff-title"], "strong")
        yield changes


def why(choice: Choice) -> str:
    """What decided a choice."""
    reason = choice.reason
    if not reason.how:
        return ""
    return CHOOSE[reason.how].format(next=reason.next_text, rule=reason.rule, message=reason.message)


def total(proposal: Proposal) -> str:
    """Metal and money."""
    mass, n = show(proposal.mass_kg, "mass"), len(proposal.choices)
    if proposal.unit == "g of metal":
        return CHOOSE["total-mass"].format(mass=mass, n=n)
    return CHOOSE["total-cost"].format(cost=proposal.cost, unit=proposal.unit, mass=mass, n=n)


def quality(proposal: Proposal) -> str:
    """Proven best, or by how much another could be better."""
    if proposal.verdict == "unfinished":
        return CHOOSE["unfinished"]
    return CHOOSE["proven"] if proposal.gap_fraction == 0 else CHOOSE["gap"].format(gap=proposal.gap_fraction)


def document(proposal: Proposal, file: str, changes: str) -> dict[str, Any]:
    """The proposal for other programs."""
    return {
        "ohmstead_json": VERSION,
        "file": file,
        "verdict": proposal.verdict,
        "mass_kg": proposal.mass_kg,
        "cost": proposal.cost,
        "unit": proposal.unit,
        "gap_fraction": proposal.gap_fraction,
        "n_check": proposal.n_check,
        "n_round": proposal.n_round,
        "difference": changes,
        "choices": [
            {
                "subject": c.subject,
                "attribute": c.attribute,
                "text": c.text,
                "line": c.place.line,
                "decided_by": {
                    "next": c.reason.next_text,
                    "rule": c.reason.rule,
                    "message": c.reason.message,
                    "how": c.reason.how,
                },
            }
            for c in proposal.choices
        ],
        "clashes": [{"rule": c.rule, "subject": c.subject, "words": c.words} for c in proposal.clashes],
        "left": [finding_document(finding) for finding in proposal.left],
        "near": [finding_document(finding) for finding in proposal.near],
        "unknown": [{"rule": c.rule, "subject": c.subject, "words": c.words} for c in proposal.unknown],
    }
