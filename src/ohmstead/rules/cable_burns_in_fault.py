"""A wire that takes in more heat than it bears before its fuse opens loses its insulation."""

from collections.abc import Iterator

from ..evidence.clearing import faulted, not_cleared, slowest_s, survives, wire_withstand_a2s
from ..evidence.coverage import chains, others
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.remedy import thicker_wires, wire_words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, RunView
from ..quantity.show import show

RULE = Rule("cable-burns-in-fault", Source("iec-60364-4-43", "434.5.2"))
WORDS = Words(
    "a short of {current} in {subject}{also} lets {value} into {wire} before the {fuse}{where} has opened; it "
    "survives {limit}",
    "{mend}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    worst = {view.name: found for view in faulted(evidence) if (found := _burning_a(evidence, view)) is not None}
    for group in chains(view for view in faulted(evidence) if view.name in worst):
        view = max(group, key=lambda run: _excess(evidence, run, worst[run.name]))
        current_a = worst[view.name]
        if view.wire is None or view.guard is None:
            continue
        seconds = slowest_s(evidence, view, current_a)
        heat, bears = current_a**2 * seconds, wire_withstand_a2s(view.wire)
        texts = {
            "also": others(run.name for run in group if run is not view),
            "wire": wire_words(view.wire),
            "fuse": str(view.guard.fuse),
            "where": f" in {view.guard.run}" if view.guard.run != view.name else "",
            "mend": _mend(view, heat),
        }
        numbers = {"current": Number(current_a, "current"), "slowest": Number(seconds, "time", "table")}
        measure = Measure(heat, bears, "fuse heat")
        yield RULE.find(Severity.DANGER, Subject(view.name, view.place), WORDS, measure, numbers, texts)


def _burning_a(evidence: Evidence, view: RunView) -> float | None:
    """The fault current that does the wire most harm; None when it survives every one."""
    if not_cleared(evidence, view):
        return None  # fault-not-cleared speaks, and says whether the wire survives
    bad = [amps for amps in _currents(view) if not survives(view, amps, slowest_s(evidence, view, amps))]
    return max(bad, key=lambda amps: _excess(evidence, view, amps), default=None)


def _currents(view: RunView) -> Iterator[float]:
    """From the smallest short at the far end to the largest at the near one, and the bends of the fuse's curve."""
    guard = view.guard
    if guard is None or view.fault_far is None or view.fault_near is None:
        return
    gates = [gate.percent * guard.rating_a / 100 for gate in guard.fuse.window.gates]
    top = min(view.fault_near.largest_a, guard.fuse.breaking_capacity_a(view.source_high.value))
    if guard.fuse.family.kind == "breaker":
        top = min(top, gates[-1])  # what a breaker lets through beyond is only in its maker's sheet
    low = view.fault_far.smallest_a
    yield from (amps for amps in (low, *gates, top) if low <= amps <= top)


def _excess(evidence: Evidence, view: RunView, current_a: float) -> float:
    """Heat let through over heat survived."""
    if view.wire is None:
        return 0.0
    return current_a**2 * slowest_s(evidence, view, current_a) / wire_withstand_a2s(view.wire)


def _mend(view: RunView, heat: float) -> str:
    """The thinnest wire that takes the heat; a faster fuse does too."""
    if view.wire is None:
        return ""
    wire = next((wire for wire in thicker_wires(view.wire) if wire_withstand_a2s(wire) >= heat), None)
    least = show(wire_withstand_a2s(view.wire), "fuse heat")
    faster = f"fit a smaller or faster fuse that lets through less than {least}"
    return f"lay {wire_words(wire)} or thicker, or {faster}" if wire else faster
