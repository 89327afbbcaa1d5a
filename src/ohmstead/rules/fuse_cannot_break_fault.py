"""A fuse that cannot break the short at its place bursts instead of opening."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from ..evidence.banks import banks
from ..evidence.coverage import allowed_behind, bare_runs, feeds_alone, others
from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.remedy import breaking_fuse
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, FuseView, RunView
from ..parts.fuse import Fuse
from ..quantity.show import show
from ..wiring.fuse_time import melting_window_s

RULE = Rule("fuse-cannot-break-fault", Source("small-craft-interrupting", "interrupting capacity against the bank"))
CLOSE_FRACTION = 0.2  # a battery's resistance is seldom known better; common practice
# A limiting fuse stands behind a weaker one when it has ended the short within 0.1 s, below which IEC 60364-4-43,
# 434.5.2, counts a device as one that limits the energy. From memory.
BACKS_WITHIN_S = 0.1
WORDS = Words(
    "the {fuse} {where}{also} breaks {limit} at {voltage}; a short behind it draws up to {value}{credit}",
    "fit {better}{besides}",
)
LEANS = Words(
    "the {fuse} {where}{also} breaks {limit} at {voltage}, and {value} could flow; it leans on the {limiter} in "
    "{limiter_run}, which ends such a short within {within}",
    "keep that fuse of its kind and never above its rating, or fit {better}",
)
CLOSE = Words(
    "the {fuse} {where}{also} breaks {limit} at {voltage}, and a short draws up to {value}: little is left",
    "measure the battery's resistance and state it, or fit {better}",
)


@dataclass(frozen=True, slots=True)
class Weak:
    """A fuse whose breaking capacity is near or below the fault; the one that backs it; the first at the source."""

    view: RunView
    own: FuseView
    capacity_a: float
    fault_a: float
    backing: FuseView | None
    first: str


def check(evidence: Evidence) -> Iterator[Finding]:
    weak = list(_weak(evidence))
    for group in _by((_start(evidence, w), w) for w in weak if w.fault_a > w.capacity_a and w.backing is None):
        yield from _failing(evidence, group)
    for group in _by((w.backing.run, w) for w in weak if w.fault_a > w.capacity_a and w.backing is not None):
        yield _finding(evidence, group, Severity.TIGHT, LEANS)
    for group in _by((_start(evidence, w), w) for w in weak if w.fault_a <= w.capacity_a and w.backing is None):
        yield _finding(evidence, group, Severity.TIGHT, CLOSE)


def _by(pairs: Iterable[tuple[str, Weak]]) -> Iterable[list[Weak]]:
    """Weak fuses gathered by a name."""
    found: dict[str, list[Weak]] = {}
    for name, weak in pairs:
        found.setdefault(name, []).append(weak)
    return found.values()


def _start(evidence: Evidence, weak: Weak) -> str:
    """The fuse at the source that a weak one hangs on; alike ones at batteries in parallel count as one."""
    first = evidence.run(weak.first)
    names = [bank.name for bank in banks(evidence) if first.fed_by in [view.name for view in bank.batteries]]
    kind = str(first.own_fuse.fuse) if first.own_fuse else ""
    return f"{kind} at {names[0]}" if names and not first.upstream else weak.first


def _failing(evidence: Evidence, group: list[Weak]) -> Iterator[Finding]:
    """One finding for the fuse at the source, which can stand behind the others once mended; one for the rest."""
    firsts = [weak for weak in group if weak.view.name == weak.first]
    rest = [weak for weak in group if weak not in firsts]
    if firsts:
        worst = _farthest_over(firsts)
        better, ambient_c = _better(evidence, worst), worst.own.ambient_c
        backed = [weak for weak in rest if better and _backs(better, ambient_c, weak.fault_a)]
        weaker = "weaker one" if len(backed) == 1 else f"{len(backed)} weaker ones"
        besides = f"; it then stands behind the {weaker} after it too" if backed else ""
        yield _finding(evidence, firsts, Severity.DANGER, WORDS, besides)
        rest = [weak for weak in rest if weak not in backed]
    if rest:
        besides = "" if firsts else f", or a limiting fuse such as class T or NH in {rest[0].first}"
        yield _finding(evidence, rest, Severity.DANGER, WORDS, "" if rest[0].first == rest[0].view.name else besides)


def _weak(evidence: Evidence) -> Iterator[Weak]:
    """Fuses whose capacity is near or below the largest fault; fuse-voltage-low has the others."""
    bare = {view.name for view in bare_runs(evidence)}
    for view in evidence.runs:
        own = view.own_fuse
        if own is None or view.fault_near is None or view.run.wires == "negative":
            continue
        if view.source_high.value > own.fuse.family.rated_v or bare.intersection(view.upstream):
            continue  # told by fuse-voltage-low, or by unfused-run, whose fuse stands behind this one
        capacity_a = _capacity_a(own.fuse, view)
        fault_a = prospective_a(evidence, view)
        if capacity_a > 0 and fault_a > capacity_a * (1 - CLOSE_FRACTION):
            fused = [name for name in (view.name, *view.upstream) if evidence.run(name).own_fuse is not None]
            yield Weak(view, own, capacity_a, fault_a, _backing(evidence, view), fused[-1])


def _capacity_a(fuse: Fuse, view: RunView) -> float:
    """What a fuse breaks at the voltage that drives the fault: no charger holds its voltage into a short. [A]"""
    driving_v = view.fault_near.largest_v if view.fault_near else view.source_high.value
    return fuse.breaking_capacity_a(min(driving_v, view.source_high.value))


def prospective_a(evidence: Evidence, view: RunView) -> float:
    """Largest current that the run's own fuse can be asked to break. [A]

    A fuse at one of several batteries sees either its own battery or all the others, whichever gives more.
    """
    if view.fault_near is None:
        return 0.0
    battery = next((b for b in evidence.batteries if b.name == view.fed_by and not view.upstream), None)
    if battery is None or feeds_alone(evidence, view):
        return view.fault_near.largest_a
    return max(battery.short_circuit_a, view.fault_near.largest_a - battery.short_circuit_a)


def _backing(evidence: Evidence, view: RunView) -> FuseView | None:
    """A limiting fuse nearer the source that ends this fault and can itself break the one at its own place."""
    for name in view.upstream:
        run = evidence.run(name)
        fuse = run.own_fuse
        if fuse is None or not _backs(fuse.fuse, fuse.ambient_c, prospective_a(evidence, view)):
            continue
        if _capacity_a(fuse.fuse, run) >= prospective_a(evidence, run):
            return fuse
    return None


def _backs(fuse: Fuse, ambient_c: float, fault_a: float) -> bool:
    """True for a fuse of a limiting kind that ends a fault in time to spare a weaker one."""
    return fuse.family.current_limiting == "yes" and melting_window_s(fuse, fault_a, ambient_c)[1] <= BACKS_WITHIN_S


def _better(evidence: Evidence, weak: Weak) -> Fuse | None:
    most_a = allowed_behind(evidence, weak.view)
    fault_a = weak.fault_a / (1 - CLOSE_FRACTION)
    voltage_v = weak.view.source_high.value
    return breaking_fuse(weak.view, weak.own, voltage_v, fault_a, most_a, evidence.clear_within_s)


def _finding(evidence: Evidence, group: list[Weak], severity: Severity, words: Words, besides: str = "") -> Finding:
    """The fuse of a group that is farthest over, with the names of the others."""
    weak = _farthest_over(group)
    view, backing, better = weak.view, weak.backing, _better(evidence, weak)
    times = [melting_window_s(w.backing.fuse, w.fault_a, w.backing.ambient_c)[1] for w in group if w.backing]
    texts = {
        "fuse": str(weak.own.fuse),
        "where": _where(evidence, view),
        "voltage": show(view.fault_near.largest_v if view.fault_near else view.source_high.value, "voltage"),
        "better": str(better) if better else f"a fuse that breaks {show(weak.fault_a, 'current')} there",
        "besides": besides,
        "credit": _no_credit(evidence, view),
        "also": others(other.view.name for other in group if other is not weak),
        "limiter": str(backing.fuse) if backing else "",
        "limiter_run": backing.run if backing else "",
        "within": show(max(times, default=0.0), "time"),
    }
    measure = Measure(weak.fault_a, weak.capacity_a, "current")
    return RULE.find(severity, Subject(view.name, view.place), words, measure, texts=texts)


def _farthest_over(group: list[Weak]) -> Weak:
    """Of equals the first in the file."""
    return max(group, key=lambda w: round(w.fault_a / w.capacity_a, 9))


def _where(evidence: Evidence, view: RunView) -> str:
    """At the battery, in a block, or in a branch."""
    if not view.upstream and view.fed_kind == "battery":
        return f"at {view.fed_by}"
    blocks = {block.name for block in evidence.blocks}
    ends = (view.run.start, view.run.end)
    block = next((end.part for end in ends if end.part in blocks and end.way is not None), None)
    return f"in {block} before {view.name}" if block else f"in {view.name}"


def _no_credit(evidence: Evidence, view: RunView) -> str:
    """Why the fuse before it does not help."""
    before = next((own for name in view.upstream if (own := evidence.run(name).own_fuse) is not None), None)
    if before is None:
        return ""
    if _backs(before.fuse, before.ambient_c, prospective_a(evidence, view)):
        return f", and the {before.fuse} before it cannot break the short at its own place either"
    return f", and the {before.fuse} before it neither limits nor ends a short of this size soon enough"
