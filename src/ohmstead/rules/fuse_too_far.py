"""The stretch between the source and its fuse is protected by nothing, so it must be short."""

from collections.abc import Iterator

from ..evidence.coverage import (
    SHEATHED_M,
    allowed_fuse,
    bare_before_m,
    enclosed_reach_m,
    from_battery,
    fuse_upstream,
    limited,
    near_part,
    reach_of,
    share_through,
)
from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, RunView
from ..quantity.show import show_length_both

RULE = Rule("fuse-too-far", Source("33-cfr-183", "183.455(a); IEC 60364-4-43, 434.2.1 for enclosed wire"))
WORDS = Words(
    "the {fuse} in {subject} sits {length} after {start}{assumed}: nothing protects that stretch, and {because} "
    "may be {allowed} long there",
    "move the fuse to within {allowed} of {start}{enclose}",
)

ASSUMED = " (its place in the run is not stated and taken as the start of it)"
ENCLOSE = ", or enclose the stretch in conduit all the way: then {} will do"


def check(evidence: Evidence) -> Iterator[Finding]:
    told: set[tuple[str, ...]] = set()
    fused = [view for view in evidence.runs if view.own_fuse is not None and from_battery(view)]
    for view in sorted(fused, key=lambda view: (-_bare_stretch(evidence, view)[1], view.name)):
        if view.own_fuse is None or limited(view):
            continue
        reach = reach_of(view, evidence.rules)
        start, length_m = _bare_stretch(evidence, view)
        if length_m <= reach.limit_m or _told_elsewhere(evidence, view) or view.upstream in told:
            continue
        if length_m - view.unfused_m > reach.limit_m:
            told.add(view.upstream)  # all runs behind the same bare stretch have one cause
        texts = {
            "fuse": str(view.own_fuse.fuse),
            "start": start,
            "length": show_length_both(length_m),
            "allowed": show_length_both(reach.limit_m),
            "because": reach.because,
            "assumed": ASSUMED if view.name in evidence.at_m_assumed else "",
            "enclose": _enclose(reach.limit_m, length_m, enclosed_reach_m(evidence.rules)),
        }
        severity = Severity.DANGER if length_m > SHEATHED_M else Severity.FAILS
        measure = Measure(length_m, reach.limit_m, "length")
        rule = Rule(RULE.slug, reach.source)
        yield rule.find(severity, Subject(view.name, view.place), WORDS, measure, texts=texts)


def _enclose(limit_m: float, length_m: float, enclosed_m: float) -> str:
    return ENCLOSE.format(show_length_both(enclosed_m)) if limit_m < length_m <= enclosed_m else ""


def _bare_stretch(evidence: Evidence, view: RunView) -> tuple[str, float]:
    """Where the unprotected stretch begins, and its length; 0 when an earlier fuse covers it."""
    before = fuse_upstream(evidence, view)
    if before is None:
        return view.fed_by, bare_before_m(evidence, view) + view.unfused_m
    allowed = allowed_fuse(view, evidence.rules)
    before_a = before.rating_a / share_through(evidence, before, view)
    covered = allowed is None or before_a <= allowed.rating_a
    return near_part(evidence, view), 0.0 if covered else view.unfused_m


def _told_elsewhere(evidence: Evidence, view: RunView) -> bool:
    """True when a run before this one is by itself too long without a fuse: unfused-run speaks of it."""
    earlier = [evidence.run(name) for name in view.upstream]
    if any(run.run.origin_of("fuse") == "choose" for run in earlier):
        return True  # not chosen yet: nothing to measure from
    if any(run.own_fuse is not None for run in earlier):
        return False
    return any(run.run.length_m > reach_of(run, evidence.rules).limit_m for run in earlier)
