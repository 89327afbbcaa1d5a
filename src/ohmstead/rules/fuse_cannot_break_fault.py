"""A fuse that cannot break the short at its place bursts instead of opening."""

from collections.abc import Iterator
from dataclasses import dataclass

from ..evidence.coverage import others
from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.remedy import breaking_fuse
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, FuseView, RunView
from ..quantity.show import show
from ..wiring.fuse_time import melting_window_s

RULE = Rule(
    "fuse-cannot-break-fault", Source("small-craft-interrupting", "interrupting capacity against the bank")
)
CLOSE_FRACTION = 0.2  # a battery's resistance is seldom known better; common practice
# A fuse limits a current when it melts within the half cycle of mains in which its class is tested (UL 248,
# from memory); slower than that the current has reached its full height.
LIMITS_WITHIN_S = 0.01
WORDS = Words(
    "the {fuse} {where} breaks {limit} at {voltage}; a short behind it draws up to {value}{credit}",
    "fit {better}",
)
LEANS = Words(
    "the {fuse} {where}{also} breaks {limit} at {voltage}, and {value} could flow; it leans on the {limiter} "
    "in {limiter_run}, which limits the current of a short while it melts",
    "keep that fuse of its kind and never above its rating, or fit {better}",
)
CLOSE = Words(
    "the {fuse} {where} breaks {limit} at {voltage}, and a short draws up to {value}: little is left",
    "measure the battery's resistance and state it, or fit {better}",
)


@dataclass(frozen=True, slots=True)
class Weak:
    """A fuse whose breaking capacity is near or below the fault, and the limiting fuse before it."""

    view: RunView
    own: FuseView
    capacity_a: float
    fault_a: float
    limiter: FuseView | None


def check(evidence: Evidence) -> Iterator[Finding]:
    leaning: dict[str, list[Weak]] = {}
    for weak in _weak(evidence):
        if weak.fault_a > weak.capacity_a and weak.limiter is not None:
            leaning.setdefault(weak.limiter.run, []).append(weak)
        elif weak.fault_a > weak.capacity_a:
            yield _finding(evidence, weak, Severity.DANGER, WORDS)
        elif weak.limiter is None:
            yield _finding(evidence, weak, Severity.TIGHT, CLOSE)
    for group in leaning.values():
        worst = max(group, key=lambda weak: weak.fault_a / weak.capacity_a)
        yield _finding(evidence, worst, Severity.TIGHT, LEANS, [weak.view.name for weak in group])


def _weak(evidence: Evidence) -> Iterator[Weak]:
    """Fuses whose capacity is near or below the largest fault; fuse-voltage-low has the others."""
    for view in evidence.runs:
        own = view.own_fuse
        if own is None or view.fault_near is None or view.run.wires == "negative":
            continue
        capacity_a = own.fuse.breaking_capacity_a(view.source_high.value)
        fault_a = prospective_a(evidence, view)
        if capacity_a > 0 and fault_a > capacity_a * (1 - CLOSE_FRACTION):
            yield Weak(view, own, capacity_a, fault_a, _limiter(evidence, view))


def prospective_a(evidence: Evidence, view: RunView) -> float:
    """Largest current that the run's own fuse can be asked to break. [A]

    A fuse at one of several batteries sees either its own battery or all the others, whichever gives more.
    """
    if view.fault_near is None:
        return 0.0
    battery = next((b for b in evidence.batteries if b.name == view.fed_by and not view.upstream), None)
    if battery is None:
        return view.fault_near.largest_a
    return max(battery.short_circuit_a, view.fault_near.largest_a - battery.short_circuit_a)


def _limiter(evidence: Evidence, view: RunView) -> FuseView | None:
    """A fuse nearer the source that limits this fault and can itself break the one at its own place."""
    for name in view.upstream:
        run = evidence.run(name)
        fuse = run.own_fuse
        if fuse is None or not _limits(fuse, prospective_a(evidence, view)):
            continue
        if fuse.fuse.breaking_capacity_a(run.source_high.value) >= prospective_a(evidence, run):
            return fuse
    return None


def _limits(fuse: FuseView, fault_a: float) -> bool:
    """True when a fuse of a limiting kind melts before the current is at its height."""
    slowest_s = melting_window_s(fuse.fuse, fault_a, fuse.ambient_c)[1]
    return fuse.fuse.family.current_limiting == "yes" and slowest_s <= LIMITS_WITHIN_S


def _finding(
    evidence: Evidence, weak: Weak, severity: Severity, words: Words, group: list[str] | None = None
) -> Finding:
    view, fuse = weak.view, weak.own.fuse
    better = breaking_fuse(fuse, view.source_high.value, weak.fault_a / (1 - CLOSE_FRACTION))
    texts = {
        "fuse": str(fuse),
        "where": _where(evidence, view),
        "voltage": show(view.source_high.value, "voltage"),
        "better": f"a {better}"
        if better
        else f"a fuse that breaks {show(weak.fault_a, 'current')} there, such as class T",
        "credit": _no_credit(evidence, view),
        "also": others(name for name in group or [] if name != view.name),
        "limiter": str(weak.limiter.fuse) if weak.limiter else "",
        "limiter_run": weak.limiter.run if weak.limiter else "",
    }
    measure = Measure(weak.fault_a, weak.capacity_a, "current")
    return RULE.find(severity, Subject(view.name, view.place), words, measure, texts=texts)


def _where(evidence: Evidence, view: RunView) -> str:
    """At the battery, in a block, or in a branch."""
    if not view.upstream and view.fed_kind == "battery":
        return f"at {view.fed_by}"
    blocks = {block.name for block in evidence.blocks}
    block = next(
        (e.part for e in (view.run.start, view.run.end) if e.part in blocks and e.way is not None), None
    )
    return f"in {block} before {view.name}" if block else f"in {view.name}"


def _no_credit(evidence: Evidence, view: RunView) -> str:
    """Why the fuse before it does not help."""
    before = next((own for name in view.upstream if (own := evidence.run(name).own_fuse) is not None), None)
    if before is None:
        return ""
    if _limits(before, prospective_a(evidence, view)):
        return f", and the {before.fuse} before it cannot break the short at its own place either"
    return f", and the {before.fuse} before it does not limit a current of this size"
