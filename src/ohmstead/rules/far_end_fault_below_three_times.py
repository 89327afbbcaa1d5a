"""A far-end short of less than three times the fuse's rating leaves its opening to chance."""

from collections.abc import Iterator

from ..evidence.clearing import faulted, guard_share, not_cleared, wire_that_clears
from ..evidence.coverage import chains, others
from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.remedy import wire_words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, RunView
from ..parts.fuse import rating_at_most, with_rating
from ..quantity.show import show
from ..wiring.fuse_time import continuous_a

RULE = Rule("far-end-fault-below-three-times", Source("ecss-q-st-30-11c", "6.17"))
TIMES = 3.0  # ECSS-Q-ST-30-11C, 6.17, second-hand: the source delivers at least three times the rating
WORDS = Words(
    "a short at the far end of {subject}{also} draws {value}, less than three times the {fuse}{where} ({limit}); "
    "it opens in time by its sheet, but a tired joint or a warm wire takes that away",
    "{mend}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    failing = [view for view in faulted(evidence) if not not_cleared(evidence, view) and _short_a(evidence, view) > 0]
    for group in chains(failing):
        view = max(group, key=lambda run: _short_a(evidence, run))
        if view.guard is None or view.fault_far is None:
            continue
        limit_a = _limit_a(evidence, view)
        texts = {
            "also": others(run.name for run in group if run is not view),
            "fuse": str(view.guard.fuse),
            "where": f" in {view.guard.run}" if view.guard.run != view.name else "",
            "mend": _mend(evidence, view, limit_a),
        }
        measure = Measure(view.fault_far.smallest_a, limit_a, "current", "least")
        subject = Subject(view.name, view.place)
        yield RULE.find(Severity.TIGHT, subject, WORDS, measure, texts=texts)


def _limit_a(evidence: Evidence, view: RunView) -> float:
    """Three times the rating, as a current in the run."""
    return TIMES * view.guard.rating_a / guard_share(evidence, view) if view.guard else 0.0


def _short_a(evidence: Evidence, view: RunView) -> float:
    """How much the smallest fault falls short of three times the rating; not above zero when it does not."""
    return _limit_a(evidence, view) - view.fault_far.smallest_a if view.fault_far else 0.0


def _mend(evidence: Evidence, view: RunView, limit_a: float) -> str:
    ways = []
    guard, fault = view.guard, view.fault_far
    if guard is not None and fault is not None:
        rating = rating_at_most(guard.fuse.family, fault.smallest_a * guard_share(evidence, view) / TIMES)
        fuse = with_rating(guard.fuse, rating) if rating else None
        if fuse is not None and continuous_a(fuse, guard.ambient_c) >= evidence.run(guard.run).sustained.value:
            ways.append(f"fit {fuse}")
    wire = wire_that_clears(evidence, view, limit_a)
    if wire is not None:
        ways.append(f"lay {wire_words(wire)} or thicker")
    return ", or ".join(ways) or f"shorten the run, or lay thicker wire until {show(limit_a, 'current')} flow"
