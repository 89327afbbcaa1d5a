"""A wire from a battery without a fuse burns along its whole length when it is shorted."""

from collections.abc import Iterator

from ..evidence.coverage import (
    Allowed,
    allowed_fuse,
    bare_runs,
    chains,
    from_battery,
    fuse_left_open,
    limited,
    near_part,
    others,
    reach_of,
)
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.remedy import fitting_fuse, smallest_wire_for_current, wire_words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, RunView
from ..parts.fuse import Fuse, with_rating
from ..quantity.show import show, show_length_both
from ..wiring.fuse_time import continuous_a, opens_within

RULE = Rule("unfused-run", Source("iec-60364-4-43", "431.1 and 434.2; 33 CFR 183.455 for the distance"))
WORDS = Words(
    "no fuse protects {subject}{also}: a short draws up to {value} from {source} through wire that bears {limit}",
    "fit {fuse} within {reach} of {start}{needs}",
)
UNKNOWN = Words(
    "no fuse protects {subject}{also}: a short draws up to {fault} from {source}, and nothing stops it",
    "fit a fuse within {reach} of {start} that the thinnest wire behind it bears",
)
LIMITED = Words(
    "up to {value} can flow from {source} through {subject}, which bears {limit}, and no fuse stands between",
    "{fit}lay {wire} or thicker",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    """A run fails when no fuse stands in it or anywhere behind it, or when it is too long to go without."""
    for view in bare_runs(evidence):
        behind = [run for name in view.downstream if (run := evidence.run(name)).guard is None and from_battery(run)]
        yield _finding(evidence, view, behind)
    bare = [view for view in evidence.runs if view.guard is None and view.fed_kind in ("converter", "charger")]
    failing = [view for view in bare if not limited(view) and not fuse_left_open(evidence, view)]
    for head, *behind in chains(failing):
        yield from _from_limited(evidence, min((head, *behind), key=_ampacity_a))


def _finding(evidence: Evidence, view: RunView, behind: list[RunView]) -> Finding:
    subject = Subject(view.name, view.place)
    allowed = [found for run in (view, *behind) if (found := allowed_fuse(run, evidence.rules)) is not None]
    assert view.fault_near is not None
    fault_a = view.fault_near.largest_a
    texts = {
        "source": view.fed_by,
        "start": near_part(evidence, view),
        "also": others(run.name for run in behind),
        "reach": show_length_both(reach_of(view, evidence.rules).limit_m),
    }
    if not allowed or view.ampacity is None:
        numbers = {"fault": Number(fault_a, "current")}
        return RULE.find(Severity.DANGER, subject, UNKNOWN, numbers=numbers, texts=texts)
    most_a = min(found.rating_a for found in allowed)
    texts |= _fuse_words(view, most_a)
    measure = Measure(fault_a, min(allowed, key=_bears).ampacity_a, "current")
    return RULE.find(Severity.DANGER, subject, WORDS, measure, {"most": Number(most_a, "current")}, texts)


def _ampacity_a(view: RunView) -> float:
    return view.ampacity.value_a if view.ampacity else float("inf")


def _bears(allowed: Allowed) -> float:
    return allowed.ampacity_a


def _fuse_words(view: RunView, most_a: float) -> dict[str, str]:
    """The fuse to fit, and what to do besides when the wire is too thin for the load."""
    fuse = fitting_fuse(view, most_a)
    if fuse is None:
        return {"fuse": f"a fuse of at most {show(most_a, 'current')}", "needs": ""}
    load_a = view.sustained.value
    needs = ""
    if load_a > fuse.family.continuous_fraction * fuse.rating_a:
        needs = f"; the load of {show(load_a, 'current')} then needs thicker wire too"
    return {"fuse": f"{fuse} or less", "needs": needs}


def _from_limited(evidence: Evidence, view: RunView) -> Iterator[Finding]:
    """A converter or charger whose own limit is above what the wire bears."""
    allowed = allowed_fuse(view, evidence.rules)
    if allowed is None or view.fault_near is None:
        return
    fault_a = view.fault_near.largest_a
    fuse = _clearing(view, fitting_fuse(view, allowed.rating_a), evidence.clear_within_s)
    wire = smallest_wire_for_current(view, fault_a, evidence.rules)
    texts = {
        "source": view.fed_by,
        "fit": f"fit {fuse} or less at {near_part(evidence, view)}, or " if fuse else "",
        "wire": wire_words(wire) if wire else "wire",
    }
    measure = Measure(fault_a, allowed.ampacity_a, "current")
    yield RULE.find(Severity.DANGER, Subject(view.name, view.place), LIMITED, measure, texts=texts)


def _clearing(view: RunView, fuse: Fuse | None, within_s: float) -> Fuse | None:
    """The largest fuse of the kind that what the source can deliver at the far end still opens in time."""
    if fuse is None or view.fault_far is None:
        return fuse
    for rating in sorted(fuse.family.ratings_a, reverse=True):
        smaller = with_rating(fuse, rating)
        if rating <= fuse.rating_a and opens_within(smaller, within_s) <= view.fault_far.smallest_a:
            return smaller if continuous_a(smaller, view.ambient_c) >= view.sustained.value else None
    return None
