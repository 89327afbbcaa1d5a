"""`ohmstead case FILE [CASE]`: one operating case as tables of voltages, currents and losses."""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator

from .. import open as open_site
from ..network.cases import Case
from ..quantity.show import show
from ..study import Study
from .as_json import case_document, dump
from .paper import Paper, columns, paper
from .texts import ERRORS, HELP


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("case", nargs="?", help=HELP["case-name"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def run(options: Namespace) -> int:
    """Print one case; 2 when there is no such case."""
    study = open_site(options.file)
    case = find_case(study, options.case)
    if case is None:
        complain(study, options.file, options.case)
        return 2
    if options.json:
        print(dump(case_document(study, case, study.point(case.name))))
    else:
        print("\n".join(case_lines(study, case, paper(options.colour))))
    return 0


def find_case(study: Study, name: str | None) -> Case | None:
    """The case of that name; without a name the one in which the batteries give most."""
    if name is None:
        return study.heaviest_case()
    return next((case for case in study.cases if case.name == name), None)


def complain(study: Study, file: str, name: str) -> None:
    """Say that there is no such case, and the closest names."""
    from difflib import get_close_matches

    print(ERRORS["no-case"].format(name=name), file=sys.stderr)
    near = get_close_matches(name, [case.name for case in study.cases], 3, 0.4)
    if near:
        print(f"   {ERRORS['closest'].format(names=', '.join(near))}", file=sys.stderr)
    print(f"   mend   {ERRORS['no-case-mend'].format(file=file)}", file=sys.stderr)


def case_lines(study: Study, case: Case, sheet: Paper) -> Iterator[str]:
    """Title, events, then parts and runs."""
    operation, point = study.operation, study.point(case.name)
    circuit = operation.circuit
    yield sheet.ink(f"{study.site.about.name}: {case.name}", "title")
    yield case.title
    for event in point.events:
        yield sheet.ink(
            f"!! {event.element} {event.kind} at {show(event.voltage_v, 'voltage')}, "
            f"needs {show(event.needed_v, 'voltage')}",
            "fails",
        )
    yield ""
    rows = [(name, *_part_figures(study, case, name)) for name in circuit.map.points]
    yield from columns(("point", "voltage", "current", "power", "state"), rows, right=(1, 2, 3))
    yield ""
    lost = []
    for number, path in circuit.paths.items():
        amps, volts = abs(operation.run_a(point, number)), _drop(study, case, number)
        lost.append((path.run.name, show(amps, "current"), show(volts, "voltage"), show(amps * volts, "power")))
    yield from columns(("run", "current", "drop", "lost"), lost, right=(1, 2, 3))
    yield ""
    yield f"largest violation of the current law at any node: {show(point.residual_a, 'current')}"


def _drop(study: Study, case: Case, number: int) -> float:
    operation, point = study.operation, study.point(case.name)
    branches = [operation.circuit.network.branches[i] for i in operation.circuit.run_branches[number]]
    return sum(abs(point.voltage_v[branch.start] - point.voltage_v[branch.end]) for branch in branches)


def _part_figures(study: Study, case: Case, name: str) -> tuple[str, str, str, str]:
    """Voltage, current, power and state at a point."""
    operation, point = study.operation, study.point(case.name)
    circuit = operation.circuit
    volts = operation.voltage_v(point, name)
    part = name if name in study.site.parts else name.removesuffix(" in").removesuffix(" out")
    current, state = 0.0, case.states.get(part, "")
    if name in circuit.source_of:
        current, state = (
            point.source_a[circuit.source_of[name]],
            "gives" if point.source_a[circuit.source_of[name]] >= 0 else "takes charge",
        )
    elif name in circuit.feed_of:
        current, state = point.feed_a[circuit.feed_of[name]], point.feed_mode[circuit.feed_of[name]]
    elif part in circuit.converter_of:
        index = circuit.converter_of[part]
        current = (point.converter_in_a if name.endswith(" in") else point.converter_out_a)[index]
        state = point.converter_mode[index]
    elif part in circuit.load_of and name in (part, f"{part} in"):
        index = circuit.load_of[part]
        current = point.load_a[index]
        state = state if point.load_on[index] else "given up"
    return (
        show(volts, "voltage", 4),
        show(current, "current") if current else "-",
        show(volts * current, "power") if current else "-",
        state or "-",
    )
