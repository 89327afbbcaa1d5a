"""A fuse that carries more than its cable bears protects nothing."""

from collections.abc import Iterator

from ..evidence.coverage import Allowed, allowed_fuse, chains, guarding_a, others, over_cable, wire_for_fuse
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.remedy import largest_fuse_under, wire_words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, FuseView, RunView
from ..parts.fuse import Fuse
from ..quantity.show import show
from .cable_overloaded import overloaded, too_hot

RULE = Rule("fuse-over-cable", Source("iec-60364-4-43", "433.1"))
# Standard ratings of NEC 240.6(A), from memory: 240.4(B) allows the next one above the ampacity.
NEC_STEPS_A = (15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400)
WORDS = Words(
    "the {fuse}{where} guards {subject}{also}; the thinnest piece, {wire}, may have {limit} at most before it "
    "({because}){together}",
    "{mend}",
)
NEXT_STEP = Words(
    "the {fuse}{where} is above the {limit} that {wire} in {subject} carries; the code allows the next standard "
    "size above it",
    "{mend}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    # No fuse mends a wire that its load alone overloads, or that the air alone is too hot for: told there.
    judged = [view for view in evidence.runs if not overloaded(view) and not too_hot(view)]
    over = [view for view in judged if over_cable(evidence, view) is not None]
    permitted = [view for view in over if _permitted(evidence, view)]
    for view in permitted:
        yield from _finding(evidence, (view,), Severity.TIGHT, NEXT_STEP)
    for group in chains(view for view in over if view not in permitted):
        for cause in _causes(evidence, group):
            yield from _finding(evidence, cause, Severity.DANGER, WORDS)


def _permitted(evidence: Evidence, view: RunView) -> bool:
    """True when the US code lets the fuse be the next standard size above the ampacity."""
    allowed = allowed_fuse(view, evidence.rules)
    if evidence.rules != "US" or allowed is None or allowed.rating_a < allowed.ampacity_a:
        return False
    steps = (float(step) for step in NEC_STEPS_A)
    return guarding_a(evidence, view) == next((step for step in steps if step >= allowed.ampacity_a), 0.0)


def _causes(evidence: Evidence, group: tuple[RunView, ...]) -> Iterator[tuple[RunView, ...]]:
    """The whole group when one smaller fuse mends it; else the fuse's own run and each branch on its own."""
    head, *behind = group
    if not behind or head.guard is None or head.guard.run != head.name or _carries(evidence, head, group):
        yield group
        return
    yield (head,)
    yield from chains(behind)


def _carries(evidence: Evidence, head: RunView, group: tuple[RunView, ...]) -> bool:
    """True when a fuse small enough for the thinnest piece still carries the load of its own run."""
    fuse = largest_fuse_under(head, min(_rating(evidence, view) for view in group))
    return fuse is not None and not _too_small(fuse, head)


def _too_small(fuse: Fuse, view: RunView) -> bool:
    return view.sustained.value > fuse.family.continuous_fraction * fuse.rating_a


def _rating(evidence: Evidence, view: RunView) -> float:
    allowed = allowed_fuse(view, evidence.rules)
    return allowed.rating_a if allowed else float("inf")


def _finding(evidence: Evidence, group: tuple[RunView, ...], severity: Severity, words: Words) -> Iterator[Finding]:
    """A finding on the thinnest piece of a group."""
    thin = min(group, key=lambda view: _rating(evidence, view))
    allowed, guard = allowed_fuse(thin, evidence.rules), thin.guard
    if allowed is None or guard is None:
        return
    guarding = guarding_a(evidence, thin)
    texts = {
        "fuse": str(guard.fuse),
        "where": f" in {guard.run}" if guard.run != thin.name else "",
        "also": others(view.name for view in group if view is not thin),
        "wire": wire_words(thin.wire) if thin.wire else "the wire",
        "because": allowed.because,
        "together": f"; with the fuses of the other batteries {show(guarding, 'current')} can flow"
        if guarding > guard.rating_a
        else "",
        "mend": _mend(evidence, thin, guard, allowed),
    }
    measure = Measure(guarding, allowed.rating_a, "current")
    numbers = {"ampacity": Number(allowed.ampacity_a, "current", "table")}
    rule = Rule(RULE.slug, allowed.source)
    yield rule.find(severity, Subject(thin.name, thin.place), words, measure, numbers, texts)


def _mend(evidence: Evidence, thin: RunView, guard: FuseView, allowed: Allowed) -> str:
    """A smaller fuse where the load allows it, or a fuse of its own for a branch; and the thicker wire."""
    wire = wire_for_fuse(thin, guarding_a(evidence, thin), evidence.rules)
    thicker = f"lay {wire_words(wire)} or thicker" if wire else "lay a thicker wire"
    fuse = largest_fuse_under(thin, allowed.rating_a)
    if fuse is None:
        return thicker
    too_small = f"too small for the {show(thin.sustained.value, 'current')} it carries"
    if thin.run.wires == "negative":
        return f"fit {fuse} or less in {guard.run}, or {thicker}" if not _too_small(fuse, thin) else thicker
    if guard.run != thin.name:
        if _too_small(fuse, thin):
            return f"{thicker}: {fuse} would be {too_small}"
        return f"fit a fuse of its own where {thin.name} starts, {fuse} or less, or {thicker}"
    if _too_small(fuse, thin):
        return f"{thicker}; {fuse}, the largest this wire allows, is {too_small}"
    return f"fit {fuse} or less, or {thicker}"
