"""`ohmstead list FILE parts|runs|cases`: what there is, with what is known of it."""

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from typing import Any

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
    rows = {"parts": part_rows, "runs": run_rows, "cases": case_rows}[options.what](study)
    if options.json:
        print(dump(list_document(options.what, list(rows))))
        return 0
    lines = {"parts": part_lines, "runs": run_lines, "cases": case_lines}[options.what](study)
    sheet = paper(options.colour)
    for number, line in enumerate(lines):
        print(sheet.ink(line, "strong") if number == 0 else line)
    return 0


def part_rows(study: Study) -> Iterator[dict[str, Any]]:
    """Parts with their kind, zone, feeder and voltage span."""
    volts = _volts(study)
    for name, part in {**study.site.batteries, **study.site.parts}.items():
        low, high = volts.get(name, (None, None))
        yield {"name": name, "kind": getattr(part, "kind", "battery"), "zone": part.zone, "line": part.place.line,
               "lowest_v": low, "highest_v": high}


def _volts(study: Study) -> dict[str, tuple[float, float]]:
    """Lowest and highest voltage where each part takes its power, over all cases."""
    operation = study.operation
    found = {}
    for name in (*study.site.batteries, *study.site.parts):
        point = f"{name} in" if f"{name} in" in operation.circuit.positive else name
        values = [operation.voltage_v(p, point) for p in operation.points]
        found[name] = (min(values), max(values))
    return found


def part_lines(study: Study) -> list[str]:
    """Parts as a table."""
    rows = [(row["name"], row["kind"], row["zone"] or "-", show(row["lowest_v"], "voltage"),
             show(row["highest_v"], "voltage"), str(row["line"])) for row in part_rows(study)]
    return columns(("part", "kind", "zone", "lowest", "highest", "line"), rows, right=(3, 4, 5))


def run_rows(study: Study) -> Iterator[dict[str, Any]]:
    """Runs with resistance, current, drop and fault currents; SI units."""
    for view in study.evidence.runs:
        origins = dict(study.operation.circuit.paths[view.run.number].origins)
        yield {
            "name": view.name, "line": view.place.line, "length_m": view.run.length_m,
            "wire": str(view.run.wire or view.run.cable or "choose"),
            "area_mm2": view.wire.area_mm2 if view.wire else None,
            "fuse": str(view.own_fuse.fuse) if view.own_fuse else None,
            "ampacity_a": view.ampacity.value_a if view.ampacity else None,
            "loop_hot_ohm": view.loop_hot_ohm, "sustained_a": view.sustained.value,
            "sustained_case": view.sustained.case, "peak_a": view.current.value, "drop_v": view.drop.value,
            "fault_far_largest_a": view.fault_far.largest_a if view.fault_far else None,
            "fault_far_smallest_a": view.fault_far.smallest_a if view.fault_far else None,
            "resistance_known": origins["conductor"].how, "resistance_note": origins["conductor"].note,
        }


def run_lines(study: Study) -> list[str]:
    """Runs as a table; both lengths in words beneath it."""
    views = study.evidence.runs
    if not views:
        return [NO_RUNS]
    rows = [_run_row(study, view) for view in views]
    head = ("line", "run", "length one way", "wire", "known", "fuse", "may carry", "carries", "peak", "drop", "far fault")
    return [*columns(head, rows, right=(0, 6, 7, 8, 9, 10)), "",
            *(f"line {view.place.line}: {both_lengths(view)}" for view in views)]


def _run_row(study: Study, view: RunView) -> tuple[str, ...]:
    origin = dict(study.operation.circuit.paths[view.run.number].origins)["conductor"]
    wire = show_area_both(view.wire.area_mm2) if view.wire else str(view.run.cable or "choose")
    fault = "-" if view.fault_far is None else (
        f"{show(view.fault_far.smallest_a, 'current')}..{show(view.fault_far.largest_a, 'current')}")
    return (str(view.place.line), view.name, show(view.run.length_m, "length"), wire, origin.how,
            str(view.own_fuse.fuse) if view.own_fuse else "-",
            show(view.ampacity.value_a, "current") if view.ampacity else "-",
            show(view.sustained.value, "current"), show(view.current.value, "current"),
            show(view.drop.value, "voltage"), fault)


def both_lengths(view: RunView) -> str:
    """Length of the route and of the wire in it, in words."""
    return ONE_WAY_AND_BACK.format(one_way=show_length_both(view.run.length_m),
                                   both=show_length_both(2 * view.run.length_m))


def case_rows(study: Study) -> Iterator[dict[str, Any]]:
    """Cases with the total battery current and what failed in them."""
    for case, point in zip(study.cases, study.operation.points, strict=True):
        yield {"name": case.name, "title": case.title, "battery_a": sum(point.source_a),
               "events": [f"{event.element} {event.kind}" for event in point.events]}


def case_lines(study: Study) -> list[str]:
    """Cases as a table."""
    rows = [(row["name"], show(row["battery_a"], "current"), row["title"], "; ".join(row["events"]) or "-")
            for row in case_rows(study)]
    return columns(("case", "battery", "what it is", "what gave up"), rows, right=(1,))
