"""`ohmstead netlist FILE [CASE]`: one case as a netlist for a circuit simulator."""

from argparse import ArgumentParser, Namespace

from .. import open as open_site
from .case import complain, find_case
from .texts import HELP


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("case", nargs="?", help=HELP["case-name"])


def run(options: Namespace) -> int:
    """Print the netlist; 2 when there is no such case."""
    study = open_site(options.file)
    case = find_case(study, options.case)
    if case is None:
        complain(study, options.file, options.case)
        return 2
    print(study.netlist(case.name))
    return 0
