"""`ohmstead list FILE parts|runs|cases`: what there is, with what is known of it."""

from argparse import ArgumentParser, Namespace

from .. import open as open_site
from ..evidence.views import RunView
from ..quantity.show import show, show_area_both, show_length_both
from ..study import Study
from .as_json import dump, list_document
from .paper import columns, paper
from .texts import HELP, NO_RUNS, ONE_WAY_AND_BACK


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("what", choices=("parts", "runs", "cases"), help=HELP["what"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def run(options: Namespace) -> int:
    """Print the listing."""
    study = open_site(options.file)
    if options.json:
        print(dump(list_document(options.what, study.rows(options.what))))
        return 0
    lines = {"parts": part_lines, "runs": run_lines, "cases": case_lines}[options.what](study)
    sheet = paper(options.colour)
    for number, line in enumerate(lines):
        print(sheet.ink(line, "strong") if number == 0 else line)
    return 0


def part_lines(study: Study) -> list[str]:
    """Parts as a table."""
    rows = [
        (
            row["name"],
            row["kind"],
            row["zone"] or "-",
            show(row["lowest_v"], "voltage"),
            show(row["highest_v"], "voltage"),
            str(row["line"]),
        )
        for row in study.rows("parts")
    ]
    return columns(("part", "kind", "zone", "lowest", "highest", "line"), rows, right=(3, 4, 5))


def run_lines(study: Study) -> list[str]:
    """Runs as a table; both lengths in words beneath it."""
    views = study.evidence.runs
    if not views:
        return [NO_RUNS]
    rows = [_run_row(study, view) for view in views]
    head = (
        "line",
        "run",
        "length one way",
        "wire",
        "known",
        "fuse",
        "may carry",
        "carries",
        "peak",
        "drop",
        "far fault",
    )
    return [
        *columns(head, rows, right=(0, 6, 7, 8, 9, 10)),
        "",
        *(f"line {view.place.line}: {both_lengths(view)}" for view in views),
    ]


def _run_row(study: Study, view: RunView) -> tuple[str, ...]:
    origin = dict(study.operation.circuit.paths[view.run.number].origins)["conductor"]
    wire = show_area_both(view.wire.area_mm2) if view.wire else str(view.run.cable or "choose")
    fault = (
        "-"
        if view.fault_far is None
        else (f"{show(view.fault_far.smallest_a, 'current')}..{show(view.fault_far.largest_a, 'current')}")
    )
    return (
        str(view.place.line),
        view.name,
        show(view.run.length_m, "length"),
        wire,
        origin.how,
        str(view.own_fuse.fuse) if view.own_fuse else "-",
        show(view.ampacity.value_a, "current") if view.ampacity else "-",
        show(view.sustained.value, "current"),
        show(view.current.value, "current"),
        show(view.drop.value, "voltage"),
        fault,
    )


def both_lengths(view: RunView) -> str:
    """Length of the route and of the wire in it, in words."""
    return ONE_WAY_AND_BACK.format(
        one_way=show_length_both(view.run.length_m), both=show_length_both(2 * view.run.length_m)
    )


def case_lines(study: Study) -> list[str]:
    """Cases as a table."""
    rows = [
        (row["name"], show(row["battery_a"], "current"), row["title"], "; ".join(row["events"]) or "-")
        for row in study.rows("cases")
    ]
    return columns(("case", "battery", "what it is", "what gave up"), rows, right=(1,))
