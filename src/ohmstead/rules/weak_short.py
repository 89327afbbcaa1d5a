"""A short just above the fuse's rating flows for an hour; the wire has to bear that hour."""

from collections.abc import Iterator
from math import inf

from ..evidence.clearing import burning_a, faulted, guard_share, not_cleared
from ..evidence.coverage import chains, others
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.remedy import OVERLOAD_FACTOR, largest_fuse_under, smallest_wire_for_current, wire_words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, FuseView, RunView
from ..quantity.show import show
from ..wiring.fuse_time import continuous_a, melting_window_s, opens_within

RULE = Rule("weak-short", Source("iec-60364-4-43", "433.1: I2 at most 1.45 Iz"))
WORDS = Words(
    "the {fuse}{where} may let {value} through {subject}{also} for {time}; {wire} bears {limit} that long{permitted}",
    "{mend}",
)
PERMITTED = "; the rules of this site permit the fuse all the same"


def check(evidence: Evidence) -> Iterator[Finding]:
    failing = [view for view in faulted(evidence) if _over_a(evidence, view) > 0 and not _told(evidence, view)]
    for group in chains(failing):
        view = max(group, key=lambda run: _over_a(evidence, run))
        guard, ampacity = view.guard, view.ampacity
        if guard is None or ampacity is None:
            continue
        surely_a = opens_within(guard.fuse, inf) / guard_share(evidence, view)
        permitted = guard.rating_a > ampacity.value_a
        texts = {
            "fuse": str(guard.fuse),
            "where": f" in {guard.run}" if guard.run != view.name else "",
            "also": others(run.name for run in group if run is not view),
            "time": show(melting_window_s(guard.fuse, opens_within(guard.fuse, inf))[1], "time"),
            "wire": wire_words(view.wire) if view.wire else "the wire",
            "permitted": PERMITTED if permitted else "",
            "mend": _mend(evidence, view, guard),
        }
        limit_a = OVERLOAD_FACTOR * ampacity.value_a
        yield RULE.find(
            Severity.TIGHT if permitted else Severity.FAILS,
            Subject(view.name, view.place),
            WORDS,
            Measure(surely_a, limit_a, "current"),
            {"ampacity": Number(ampacity.value_a, "current", "table")},
            texts,
        )


def _told(evidence: Evidence, view: RunView) -> bool:
    """True when fault-not-cleared or cable-burns-in-fault speaks of the run."""
    return not_cleared(evidence, view) or burning_a(evidence, view) is not None


def _over_a(evidence: Evidence, view: RunView) -> float:
    """How far the current that surely opens the guard is above what the wire bears for that time. [A]"""
    if view.guard is None or view.ampacity is None:
        return 0.0
    surely_a = opens_within(view.guard.fuse, inf) / guard_share(evidence, view)
    return surely_a - OVERLOAD_FACTOR * view.ampacity.value_a


def _mend(evidence: Evidence, view: RunView, guard: FuseView) -> str:
    """A smaller fuse of the kind, where it carries the load, or the wire that bears the hour."""
    factor = opens_within(guard.fuse, inf) / guard.rating_a / guard_share(evidence, view)
    most_a = OVERLOAD_FACTOR * (view.ampacity.value_a if view.ampacity else 0.0) / factor
    fuse = largest_fuse_under(view, most_a)
    ways = []
    if fuse is not None and continuous_a(fuse, guard.ambient_c) >= evidence.run(guard.run).sustained.value:
        ways.append(f"fit {fuse} or less")
    needed_a = factor * guard.rating_a / OVERLOAD_FACTOR
    wire = smallest_wire_for_current(view, needed_a, evidence.rules)
    if wire is not None:
        ways.append(f"lay {wire_words(wire)} or thicker")
    return ", or ".join(ways) or "fit a fuse that opens nearer its rating"
