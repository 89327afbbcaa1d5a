"""A fuse that carries more than its holder or its plug lets the plastic melt while the fuse stays whole."""

from collections.abc import Iterator

from ..evidence.coverage import over_cable
from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.remedy import largest_fuse_under
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, FuseView, RunView
from ..parts.plug import End
from ..quantity.show import show

RULE = Rule("fuse-over-holder", Source("fuse-sheet-blade", "continuous current of holders"))
HOLDER = Words(
    "the {fuse} in {subject} sits in {holder} made for {limit}; the holder melts before the fuse does",
    "fit {smaller}, or {instead} for {value} and more",
)
PLUG = Words(
    "the {fuse} before {subject} lets {value} through {plug}, which is made for {limit}",
    "fit {smaller}, or a connector made for {value} and more",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.runs:
        own = view.own_fuse
        limit_a = own.holder_a if own is not None else None
        # Where the load itself passes the way no smaller fuse helps: told as way-overloaded.
        if own and limit_a is not None and own.rating_a > limit_a and not _way_carries_too_much(evidence, view):
            yield _holder(evidence, view, own, limit_a)
        weakest = _weakest_end(view)
        if weakest is None or view.guard is None or weakest.rating_a is None:
            continue
        if over_cable(evidence, view) is not None or view.sustained.value > weakest.rating_a:
            continue  # told by fuse-over-cable or plug-overloaded
        if _most_a(view, view.guard) > weakest.rating_a:
            yield _plug(view, view.guard, weakest, weakest.rating_a)


def _holder(evidence: Evidence, view: RunView, own: FuseView, limit_a: float) -> Finding:
    block = next((b for b in evidence.blocks if b.block.per_way_a == limit_a and _sits_on(view, b.name)), None)
    stated = view.run.holder_a == limit_a
    texts = {
        "fuse": str(own.fuse),
        "smaller": _smaller(view, limit_a),
        "holder": f"a way of {block.name}" if block else "a holder" if stated else "a usual holder of its kind,",
        "instead": "a block with ways" if block else "a holder",
    }
    measure = Measure(own.rating_a, limit_a, "current")
    return RULE.find(Severity.DANGER, Subject(view.name, view.place), HOLDER, measure, texts=texts)


def _plug(view: RunView, guard: FuseView, weakest: End, limit_a: float) -> Finding:
    texts = {"fuse": str(guard.fuse), "plug": f"a {weakest.name}", "smaller": _smaller(view, limit_a)}
    measure = Measure(_most_a(view, guard), limit_a, "current")
    return RULE.find(Severity.FAILS, Subject(view.name, view.place), PLUG, measure, texts=texts)


def _way_carries_too_much(evidence: Evidence, view: RunView) -> bool:
    blocks = [b.block for b in evidence.blocks if _sits_on(view, b.name)]
    return any(block.per_way_a is not None and view.sustained.value > block.per_way_a for block in blocks)


def _sits_on(view: RunView, block: str) -> bool:
    return any(end.part == block and end.way is not None for end in (view.run.start, view.run.end))


def _weakest_end(view: RunView) -> End | None:
    """The plug at either end of a run that is made for the least current."""
    rated = [end for end in view.run.ends if end is not None and end.rating_a is not None]
    return min(rated, key=lambda end: end.rating_a or 0.0, default=None)


def _most_a(view: RunView, guard: FuseView) -> float:
    """What can flow for long: the fuse's rating, or the limit of a converter that is lower."""
    fault = view.fault_near
    if fault is not None and fault.limited_by != "battery":
        return min(guard.rating_a, fault.largest_a)
    return guard.rating_a


def _smaller(view: RunView, limit_a: float) -> str:
    """The largest fuse that is not too large, and whether the load lets it be fitted."""
    fuse = largest_fuse_under(view, limit_a)
    if fuse is None:
        return f"a fuse of at most {show(limit_a, 'current')}"
    short = view.sustained.value > fuse.family.continuous_fraction * fuse.rating_a
    return f"{fuse} (too small for the {show(view.sustained.value, 'current')} it carries)" if short else str(fuse)
