"""A wire that takes in more heat than it bears before its fuse opens loses its insulation."""

from collections.abc import Iterator

from ..evidence.clearing import burning_a, faulted, heat_ratio, slowest_s, wire_withstand_a2s
from ..evidence.coverage import chains, others
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.remedy import thicker_wires, wire_words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, RunView
from ..quantity.show import show

RULE = Rule("cable-burns-in-fault", Source("iec-60364-4-43", "434.5.2"))
WORDS = Words(
    "a short of {current} in {subject}{also} lets {value} into {wire} before the {fuse}{where} has opened; the "
    "wire survives {limit}",
    "{mend}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    worst = {view.name: found for view in faulted(evidence) if (found := burning_a(evidence, view)) is not None}
    for group in chains(view for view in faulted(evidence) if view.name in worst):
        view = max(group, key=lambda run: heat_ratio(evidence, run, worst[run.name]))
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


def _mend(view: RunView, heat: float) -> str:
    """The thinnest wire that takes the heat; a faster fuse does too."""
    if view.wire is None:
        return ""
    wire = next((wire for wire in thicker_wires(view.wire) if wire_withstand_a2s(wire) >= heat), None)
    least = show(wire_withstand_a2s(view.wire), "fuse heat")
    faster = f"fit a smaller or faster fuse that lets through less than {least}"
    return f"lay {wire_words(wire)} or thicker, or {faster}" if wire else faster
