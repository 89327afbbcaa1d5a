"""When the fuse nearer the battery opens before the one at the fault, everything goes dark."""

from collections.abc import Iterator
from dataclasses import dataclass

from ..evidence.coverage import allowed_behind, fuse_upstream, others, share_through
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, FuseView, RunView
from ..parts.fuse import Fuse, with_rating
from ..quantity.show import show
from ..wiring.fuse_time import continuous_a, melting_window_s

RULE = Rule("fuses-not-selective", Source("iec-60364-4-43", "discrimination of devices in series"))
WORDS = Words(
    "for {span} behind {subject}{also} the {upper} in {upper_run} may open before the {lower}: at {current} it may "
    "open after {limit}, the {lower} only after {value}",
    "{mend}",
)


@dataclass(frozen=True, slots=True)
class Pair:
    """Two fuses in series and the fault currents at which they are compared."""

    view: RunView
    lower: FuseView
    upper: FuseView
    share: float  # of the fault current that the upper one sees
    currents_a: tuple[float, ...]

    def bad_a(self, lower: Fuse, upper: Fuse) -> list[float]:
        """Currents at which the upper fuse may open before the lower one has."""
        return [amps for amps in self.currents_a if _ratio(lower, upper, amps, self.share) >= 1]


def check(evidence: Evidence) -> Iterator[Finding]:
    by_upper: dict[str, list[Pair]] = {}
    for pair in _pairs(evidence):
        if pair.bad_a(pair.lower.fuse, pair.upper.fuse):
            by_upper.setdefault(pair.upper.run, []).append(pair)
    for group in by_upper.values():
        turned = [pair for pair in group if pair.upper.rating_a <= pair.lower.rating_a * pair.share]
        if turned:
            yield _finding(evidence, turned, Severity.FAILS)
        elif group:
            yield _finding(evidence, group, Severity.TIGHT)


def _pairs(evidence: Evidence) -> Iterator[Pair]:
    """Every fuse with the next one towards the battery, and the bends of both curves within the range of faults."""
    for view in evidence.runs:
        lower, upper = view.own_fuse, fuse_upstream(evidence, view)
        if lower is None or upper is None or view.fault_near is None:
            continue
        behind = [evidence.run(name) for name in view.downstream]
        guarded = [run for run in (view, *behind) if run.guard is not None and run.guard.run == view.name]
        low = min((run.fault_far.smallest_a for run in guarded if run.fault_far is not None), default=0.0)
        high = view.fault_near.largest_a
        share = share_through(evidence, upper, view)
        gates = [gate.percent * fuse.rating_a / 100 for fuse in (lower, upper) for gate in fuse.fuse.window.gates]
        currents = [amps for amps in (low, *gates, high) if low <= amps <= high and _clears(lower.fuse, amps)]
        if currents:
            yield Pair(view, lower, upper, share, tuple(sorted(currents)))


def _clears(fuse: Fuse, current_a: float) -> bool:
    return melting_window_s(fuse, current_a)[1] < float("inf")


def _ratio(lower: Fuse, upper: Fuse, current_a: float, share: float) -> float:
    """Latest opening of the lower fuse over soonest opening of the upper one."""
    soonest = melting_window_s(upper, current_a * share)[0]
    return melting_window_s(lower, current_a)[1] / soonest if soonest > 0 else float("inf")


def _finding(evidence: Evidence, group: list[Pair], severity: Severity) -> Finding:
    """The pair of a group that is farthest from selective."""
    worst = {id(pair): _worst(pair) for pair in group}
    pair = max(group, key=lambda one: worst[id(one)][0])
    _, current_a = worst[id(pair)]
    bad = pair.bad_a(pair.lower.fuse, pair.upper.fuse)
    texts = {
        "also": others(one.view.name for one in group if one is not pair),
        "upper": str(pair.upper.fuse),
        "upper_run": pair.upper.run,
        "lower": str(pair.lower.fuse),
        "span": _span(pair, bad),
        "mend": _mend(evidence, pair),
    }
    slow_s = melting_window_s(pair.lower.fuse, current_a)[1]
    fast_s = melting_window_s(pair.upper.fuse, current_a * pair.share)[0]
    measure = Measure(slow_s, fast_s, "time")
    numbers = {"current": Number(current_a, "current")}
    return RULE.find(severity, Subject(pair.view.name, pair.view.place), WORDS, measure, numbers, texts)


def _span(pair: Pair, bad: list[float]) -> str:
    """The shorts for which the order is not sure."""
    if len(bad) == len(pair.currents_a):
        return "any short"
    if bad[-1] == bad[0]:
        return f"a short of about {show(bad[0], 'current')}"
    return f"shorts from about {show(bad[0], 'current')} to {show(bad[-1], 'current')}"


def _worst(pair: Pair) -> tuple[float, float]:
    """The largest ratio of times and its current."""
    return max((_ratio(pair.lower.fuse, pair.upper.fuse, amps, pair.share), amps) for amps in pair.currents_a)


def _mend(evidence: Evidence, pair: Pair) -> str:
    """A larger fuse above where the wire allows it, a smaller one below where the load does, or other kinds."""
    ways = []
    upper_view = evidence.run(pair.upper.run)
    allowed_a = allowed_behind(evidence, upper_view)
    for rating in pair.upper.fuse.family.ratings_a:
        if rating > pair.upper.rating_a and rating <= allowed_a:
            fuse = with_rating(pair.upper.fuse, rating)
            if not pair.bad_a(pair.lower.fuse, fuse):
                ways.append(f"fit {fuse} in {pair.upper.run}, which its wire allows")
                break
    for rating in reversed(pair.lower.fuse.family.ratings_a):
        fuse = with_rating(pair.lower.fuse, rating)
        if rating < pair.lower.rating_a and not pair.bad_a(fuse, pair.upper.fuse):
            if continuous_a(fuse, pair.lower.ambient_c) >= pair.view.sustained.value:
                ways.append(f"fit {fuse} in {pair.view.name}, which its load allows")
            break
    return ", or ".join(ways) or "take a slower kind of fuse near the battery or a faster one in the branch"
