"""A short at the far end that the fuse does not see in time goes on heating wire and fault."""

from collections.abc import Iterator

from ..evidence.clearing import (
    clears_from_a,
    faulted,
    fuse_that_clears,
    not_cleared,
    slowest_s,
    survives,
    wire_that_clears,
)
from ..evidence.coverage import chains, others
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.remedy import wire_words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, RunView
from ..quantity.show import show

RULE = Rule("fault-not-cleared", Source("iec-60364-4-43", "434.5; times of 411.3.2 of IEC 60364-4-41"))
WORDS = Words(
    "a short at the far end of {subject}{also} draws only {value} with the battery low and the wire hot; the "
    "{fuse}{where} {opens}, and {within} are allowed{burns}",
    "{mend}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    failing = [view for view in faulted(evidence) if not_cleared(evidence, view)]
    for group in chains(failing):
        view = min(group, key=_smallest_a)
        guard = view.guard
        if guard is None:
            continue
        current_a, seconds = _smallest_a(view), slowest_s(evidence, view, _smallest_a(view))
        burns = any(not survives(run, current_a, seconds) for run in group)
        needed_a = clears_from_a(evidence, view, guard, guard.fuse)
        texts = {
            "also": others(run.name for run in group if run is not view),
            "fuse": str(guard.fuse),
            "where": f" in {guard.run}" if guard.run != view.name else "",
            "opens": "need never open" if seconds == float("inf") else f"may take {show(seconds, 'time')}",
            "within": show(evidence.clear_within_s, "time"),
            "burns": "; the wire does not survive that" if burns else "",
            "mend": _mend(evidence, view, current_a, needed_a),
        }
        numbers = {} if seconds == float("inf") else {"slowest": Number(seconds, "time", "table")}
        measure = Measure(current_a, needed_a, "current", "least") if needed_a < float("inf") else None
        if measure is None:
            numbers["value"] = Number(current_a, "current")
        yield RULE.find(
            Severity.DANGER if burns else Severity.FAILS,
            Subject(view.name, view.place),
            WORDS,
            measure,
            numbers,
            texts,
        )


def _smallest_a(view: RunView) -> float:
    return view.fault_far.smallest_a if view.fault_far else float("inf")


def _mend(evidence: Evidence, view: RunView, current_a: float, needed_a: float) -> str:
    """A smaller or faster fuse, a thicker wire, or a shorter one."""
    if needed_a == float("inf"):
        return "take another kind of fuse: this one is slower than that at any current"
    fuse = fuse_that_clears(evidence, view, current_a)
    wire = wire_that_clears(evidence, view, needed_a)
    ways = []
    if fuse is not None:
        ways.append(f"fit {fuse}")
    if wire is not None:
        ways.append(f"lay {wire_words(wire)} or thicker, which lets {show(needed_a, 'current')} flow")
    if not ways:
        ways.append(f"shorten the run or lay thicker wire until {show(needed_a, 'current')} flow")
    return ", or ".join(ways)
