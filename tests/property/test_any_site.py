"""Laws that hold for the whole program, whatever the site: it ends, it speaks well, it keeps the balance of energy."""

import json
import math
import re
from collections import Counter
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ohmstead import study
from ohmstead.cli import as_json, case, explain
from ohmstead.cli import list as listing
from ohmstead.cli.paper import Paper
from ohmstead.cli.report import report
from ohmstead.evidence.finding import Finding, Severity
from ohmstead.network.elements import Corner, Network, OperatingPoint
from ohmstead.rules.catalogue import page, rule_names
from ohmstead.study import Study
from ohmstead.tables.sources import source
from property.any_site import any_site, large_site
from property.site_pieces import Made, shuffled, switched_off, thickened

PLAIN, COLOURED = Paper("no"), Paper("yes")
UNSAID = re.compile(r"(?<![\w-])(nan|inf|infinity|None|True|False)(?![\w-])|[{}]|  |Endpoint|Span\(")
TWIN = re.compile(r" #\d+$")
BALANCE = 1e-6  # of the power that flows; the solver promises a microampere a node


def check(made: Made) -> Study:
    return study.from_text(made.text())


def printed(done: Study) -> str:
    """Everything the commands can say about a site."""
    lines = [*report(done, PLAIN), *listing.part_lines(done), *listing.run_lines(done), *listing.case_lines(done)]
    lines += case.case_lines(done, done.heaviest_case(), PLAIN)
    for finding in done.findings:
        lines += explain.numbered(done, finding, PLAIN)
    for rule in {finding.rule for finding in done.findings}:
        lines += page_text(rule)
    return "\n".join(lines)


@cache
def page_text(rule: str) -> tuple[str, ...]:
    return tuple(explain.page_lines(page(rule), PLAIN))


def must_print(done: Study) -> None:
    coloured = re.sub(r"\x1b\[[0-9;]*m", "", "\n".join(report(done, COLOURED)))
    assert coloured == "\n".join(report(done, PLAIN))
    assert printed(done).isprintable() or all(sign.isprintable() or sign == "\n" for sign in printed(done))
    document = json.loads(as_json.dump(as_json.check_document(done)))
    assert len(document["findings"]) == len(done.findings)
    heaviest = done.heaviest_case()
    json.loads(as_json.dump(as_json.case_document(done, heaviest, done.point(heaviest.name))))
    for what in ("parts", "runs", "cases"):
        json.loads(as_json.dump(as_json.list_document(what, done.rows(what))))
    assert done.netlist(heaviest.name).rstrip().endswith(".end")


def must_be_well_said(done: Study, finding: Finding) -> None:
    assert finding.rule in rule_names()
    assert 1 <= finding.place.line <= done.site.text.count("\n") + 1, finding
    assert finding.place.column >= 1
    for text in (finding.message, finding.mend):
        assert text.strip() and not UNSAID.search(text), text
    for value in (finding.value, finding.limit):
        assert value is None or math.isfinite(value), finding
    assert finding.margin_fraction is None or not math.isnan(finding.margin_fraction)
    assert all(math.isfinite(number.value) for number in finding.numbers.values()), finding
    assert not finding.case or finding.case in {case.name for case in done.cases}, finding
    assert finding.subject
    source(finding.source.key)


def must_balance(network: Network, corner: Corner, point: OperatingPoint) -> None:
    """What sources and chargers give is what wires, loads and converters take; nothing but a source gives."""
    v = point.voltage_v
    given = [
        (v[s.positive] - v[s.negative]) * amps for s, amps in zip(network.sources, point.source_a, strict=True)
    ] + [(v[f.positive] - v[f.negative]) * amps for f, amps in zip(network.feeds, point.feed_a, strict=True)]
    wires = [(v[b.start] - v[b.end]) * amps for b, amps in zip(network.branches, point.branch_a, strict=True)]
    loads = [(v[d.positive] - v[d.negative]) * amps for d, amps in zip(network.loads, point.load_a, strict=True)]
    lost = [
        (v[c.input_positive] - v[c.input_negative]) * taken - (v[c.output_positive] - v[c.output_negative]) * out
        for c, taken, out in zip(network.converters, point.converter_in_a, point.converter_out_a, strict=True)
    ]
    flowing = sum(map(abs, (*given, *wires, *loads, *lost)))
    worst_v = max(map(abs, v))
    allowed_w = BALANCE * flowing + 1e-5 * worst_v
    assert abs(sum(given) - sum(wires) - sum(loads) - sum(lost)) <= allowed_w
    assert min((*wires, *loads, *lost), default=0.0) >= -allowed_w
    assert math.isfinite(flowing) and point.residual_a < 1e-3


def kinds(found: tuple[Finding, ...]) -> Counter[tuple[str, str, str]]:
    """What was found, apart from order, the numbers of twin runs, and which of several alike is named first."""
    return Counter((f.rule, "one of several" if named_first(f) else TWIN.sub("", f.subject), f.severity) for f in found)


def named_first(finding: Finding) -> bool:
    return "(also " in finding.message or finding.rule in ("idle-share-high", "part-without-source")


def must_hold(made: Made) -> None:
    """The laws for one site as it is."""
    done = check(made)
    for finding in done.findings:
        must_be_well_said(done, finding)
    must_print(done)
    for corner, point in zip(done.operation.corners, done.operation.points, strict=True):
        must_balance(done.operation.circuit.network, corner, point)
    grave = [f for f in done.findings if f.severity in (Severity.DANGER, Severity.FAILS) and not f.accepted]
    assert done.verdict == ("fails" if grave else "fine")
    names = [view.name for view in done.evidence.runs] + [run.name for run in done.evidence.data_runs]
    assert len(set(names)) == len(names)
    assert len({case.name for case in done.cases}) == len(done.cases)


def must_not_change(made: Made) -> None:
    """The same text twice, and the same things in another order."""
    first, again = check(made), check(made)
    assert printed(first) == printed(again)
    moved = check(shuffled(made))
    if not {"collapsed"} & {event.kind for done in (first, moved) for p in done.operation.points for event in p.events}:
        assert kinds(moved.findings) == kinds(first.findings)  # where two would collapse, either may


def gave_up(done: Study) -> list[str]:
    return [event.element for point in done.operation.points for event in point.events]


LOW = ("voltage-too-low", "drop-on-run", "drop-on-path")


def must_gain_by_copper(made: Made) -> None:
    """More copper never brings a device below its window.

    True for one battery and loads of constant power or current where nothing gives up: resistances draw more
    behind better wires, two batteries exchange more, and a load that came back would draw again.
    """
    made = made.copy()
    made.battery = dict([*made.battery.items()][:1])
    for part in made.parts.values():
        part.pop("behaves", None)
    kept = {*made.battery, *made.parts}
    made.runs = [run for run in made.runs if all(run[end].split(" / ")[0] in kept for end in ("from", "to"))]
    made.accepted = []
    for part in made.parts.values():
        if part.get("senses") not in kept:
            part.pop("senses", None)
    before, after = check(made), check(thickened(made))
    limited = any("limiting" in point.converter_mode for point in before.operation.points)
    if gave_up(before) or limited:
        return
    old, new = ({(f.rule, f.subject) for f in done.findings if f.rule in LOW} for done in (before, after))
    assert {one for one in new - old if one[0] == "voltage-too-low"} == set()
    assert {view.name: view.lowest.value for view in after.evidence.devices if view.lowest} or not old
    for thin, thick in zip(before.evidence.devices, after.evidence.devices, strict=True):
        if thin.lowest and thick.lowest:
            assert thick.lowest.value >= thin.lowest.value - 1e-6, thin.name


def must_rest(made: Made) -> None:
    """With no draw at all no device gives up, unless the idle draw of its supply was too much already."""
    done = check(switched_off(made))
    devices = {name for name, part in made.parts.items() if part["kind"] == "device"}
    assert not [
        point.events[0] for point in done.operation.points if point.events and point.events[0].element in devices
    ]


@settings(max_examples=12, deadline=None)
@given(st.integers(0, 10**9).map(any_site))
def test_any_site(made: Made) -> None:
    must_hold(made)


@settings(max_examples=12, deadline=None)
@given(st.integers(0, 10**9).map(any_site))
def test_same_site_same_findings(made: Made) -> None:
    must_not_change(made)


@settings(max_examples=12, deadline=None)
@given(st.integers(0, 10**9).map(any_site))
def test_more_copper_never_lowers_a_voltage(made: Made) -> None:
    must_gain_by_copper(made)


@settings(max_examples=12, deadline=None)
@given(st.integers(0, 10**9).map(any_site))
def test_nothing_browns_out_at_rest(made: Made) -> None:
    must_rest(made)


@pytest.mark.parametrize("seed", [1])
def test_two_hundred_runs(seed: int) -> None:
    """Without start-ups: each of them is a case of its own, and here nearly everything gives up one by one in each."""
    made = large_site(seed)
    for part in made.parts.values():
        if isinstance(part.get("draws"), dict):
            part["draws"] = {state: text for state, text in part["draws"].items() if state != "start-up"}
    must_hold(made)
