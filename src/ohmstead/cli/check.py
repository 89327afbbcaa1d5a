"""`ohmstead check FILE`: judge a site file by every rule."""

import sys
from argparse import ArgumentParser, Namespace

from .. import open as open_site
from .paper import paper
from .report import report
from .texts import HELP, SEASON


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("--season", action="store_true", help=SEASON["with-season"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def run(options: Namespace) -> int:
    """Print the report; 0 when nothing fails, 1 when something does, 2 when the season cannot be reckoned."""
    study = open_site(options.file)
    if options.season:
        from ..study import SeasonStudy

        try:
            study = SeasonStudy(study.site)
            study.findings  # noqa: B018 - reckoned here, so that what is missing is told before anything is printed
        except ImportError as error:
            print(SEASON["needs"].format(name=error.name), file=sys.stderr)
            return 2
    if options.json:
        from .as_json import check_document, dump

        print(dump(check_document(study)))
    else:
        print("\n".join(report(study, paper(options.colour))))
    return 0 if study.verdict == "fine" else 1
