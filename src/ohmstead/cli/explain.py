"""`ohmstead explain RULE`, or `ohmstead explain RULE FILE`: a rule's page, or its findings with their numbers."""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator

from .. import open as open_site
from ..evidence.finding import Finding
from ..rules.catalogue import Page, asks, page, rule_names
from ..study import SeasonStudy, Study
from .paper import Paper, columns, paper
from .report import finding_lines
from .texts import ERRORS, HELP


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("rule", help=HELP["rule"])
    parser.add_argument("file", nargs="?", help=HELP["file"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def run(options: Namespace) -> int:
    """Print the page and, with a file, every finding of the rule; 2 when there is no such rule."""
    sheet = paper(options.colour)
    if options.rule not in rule_names():
        complain(options.rule)
        return 2
    print("\n".join(page_lines(page(options.rule), sheet)))
    if options.file:
        study = open_site(options.file)
        if asks(options.rule) == "season":
            study = SeasonStudy(study.site)
        found = [finding for finding in study.findings if finding.rule == options.rule]
        print(sheet.rule())
        if not found:
            print(f"{options.file}: not found here")
        for finding in found:
            print("\n".join(numbered(study, finding, sheet)))
    return 0


def complain(name: str) -> None:
    """Say that there is no such rule, and the closest names."""
    from difflib import get_close_matches

    print(ERRORS["no-rule"].format(name=name), file=sys.stderr)
    near = get_close_matches(name, rule_names(), 3, 0.4)
    if near:
        print(f"   {ERRORS['closest'].format(names=', '.join(near))}", file=sys.stderr)
    print(f"   mend   {ERRORS['no-rule-mend']}", file=sys.stderr)


def page_lines(found: Page, sheet: Paper) -> Iterator[str]:
    """A rule's page for the terminal."""
    yield sheet.ink(found.slug, "title")
    yield found.sentence
    for title, body in found.sections.items():
        yield ""
        yield sheet.ink(title, "strong")
        yield from (f"  {line}".rstrip() for line in body.splitlines() if not line.startswith("```"))


def numbered(study: Study, finding: Finding, sheet: Paper) -> Iterator[str]:
    """A finding followed by the numbers it was computed from."""
    yield from finding_lines(study, finding, sheet)
    if finding.numbers:
        rows = [(name.replace("_", " "), str(number), number.how) for name, number in finding.numbers.items()]
        yield from (f"           {line}" for line in columns(("figure", "value", "known"), rows, right=(1,)))
    yield ""
