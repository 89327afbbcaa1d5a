"""A fuse that carries more than its cable bears protects nothing."""

from collections.abc import Iterator

from ..evidence.coverage import Allowed, allowed_fuse, chains, others, over_cable, wire_for_fuse
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.remedy import largest_fuse_under, wire_words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, FuseView, RunView
from ..quantity.show import show

RULE = Rule("fuse-over-cable", Source("iec-60364-4-43", "433.1"))
# Standard ratings of NEC 240.6(A), from memory: 240.4(B) allows the next one above the ampacity.
NEC_STEPS_A = (
    15,
    20,
    25,
    30,
    35,
    40,
    45,
    50,
    60,
    70,
    80,
    90,
    100,
    110,
    125,
    150,
    175,
    200,
    225,
    250,
    300,
    350,
    400,
)
WORDS = Words(
    "the {fuse}{where} guards {subject}{also}; its thinnest piece, {wire}, may have {limit} at most "
    "before it ({because})",
    "{mend}",
)
NEXT_STEP = Words(
    "the {fuse}{where} is above the {limit} that {wire} in {subject} carries; the code allows the next "
    "standard size above it",
    "{mend}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for head, *behind in chains(view for view in evidence.runs if over_cable(view, evidence.rules)):
        group = [head, *behind]
        thin = min(group, key=lambda view: _rating(evidence, view))
        allowed, guard = over_cable(thin, evidence.rules), thin.guard
        if allowed is None or guard is None:
            continue
        step = evidence.rules == "US" and allowed.rating_a == allowed.ampacity_a
        permitted = step and guard.rating_a == _next_step(allowed.ampacity_a)
        texts = {
            "fuse": str(guard.fuse),
            "where": f" in {guard.run}" if guard.run != thin.name else "",
            "also": others(view.name for view in group if view is not thin),
            "wire": wire_words(thin.wire) if thin.wire else "the wire",
            "because": allowed.because,
            "mend": _mend(evidence, thin, guard, allowed),
        }
        yield Rule(RULE.slug, allowed.source).find(
            Severity.TIGHT if permitted else Severity.DANGER,
            Subject(thin.name, thin.place),
            NEXT_STEP if permitted else WORDS,
            Measure(guard.rating_a, allowed.rating_a, "current"),
            {"ampacity": Number(allowed.ampacity_a, "current", "table")},
            texts,
        )


def _rating(evidence: Evidence, view: RunView) -> float:
    allowed = allowed_fuse(view, evidence.rules)
    return allowed.rating_a if allowed else float("inf")


def _next_step(ampacity_a: float) -> float:
    return next((float(step) for step in NEC_STEPS_A if step >= ampacity_a), float("inf"))


def _mend(evidence: Evidence, thin: RunView, guard: FuseView, allowed: Allowed) -> str:
    """A smaller fuse where the load allows it, or a fuse of its own for a branch; and the thicker wire."""
    wire = wire_for_fuse(thin, guard.rating_a, evidence.rules)
    thicker = f"lay {wire_words(wire)} or thicker" if wire else "lay a thicker wire"
    fuse = largest_fuse_under(thin, allowed.rating_a)
    if fuse is None:
        return thicker
    load_a = thin.sustained.value
    short = load_a > fuse.family.continuous_fraction * fuse.rating_a
    too_small = f"too small for the {show(load_a, 'current')} it carries"
    if guard.run != thin.name:
        own = f"fit a fuse of its own where {thin.name} starts, {fuse} or less, or {thicker}"
        return f"{thicker}: {fuse} would be {too_small}" if short else own
    if short:
        return f"{thicker}; {fuse}, the largest this wire allows, is {too_small}"
    return f"fit {fuse} or less, or {thicker}"
