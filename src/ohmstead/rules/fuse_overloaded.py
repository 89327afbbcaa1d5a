"""A fuse loaded for hours above its continuous share ages and opens on a hot day."""

from collections.abc import Iterator

from ..evidence.coverage import allowed_behind, wires_behind
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, FuseView, RunView
from ..parts.fuse import Fuse, with_rating
from ..wiring.fuse_time import ambient_share, continuous_a

RULE = Rule("fuse-overloaded", Source("fuse-guide", "continuous load at most 75 % of the rating at 25 °C"))
CLOSE_FRACTION = 0.05  # a clamp meter and a device's label are easily this far off; common practice
WORDS = Words(
    "the {fuse} in {subject} carries {value} for hours; in air of {ambient} it may carry {limit}{opens}",
    "{mend}",
)
CLOSE = Words(
    "the {fuse} in {subject} carries {value} for hours and may carry {limit} in air of {ambient}: little is left",
    "measure the current on a busy day, or {mend}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.runs:
        own = view.own_fuse
        if own is None or view.sustained.value <= own.continuous_a * (1 - CLOSE_FRACTION):
            continue
        over = view.sustained.value > own.continuous_a
        left_a = own.rating_a * ambient_share(own.fuse, own.ambient_c)
        texts = {
            "fuse": str(own.fuse),
            "opens": ", and it opens" if view.sustained.value > left_a else "",
            "mend": _mend(evidence, view, own),
        }
        numbers = {"ambient": Number(own.ambient_c, "temperature"), "rating": Number(own.rating_a, "current")}
        yield RULE.find(
            Severity.FAILS if over else Severity.TIGHT,
            Subject(view.name, view.place, view.sustained.case),
            WORDS if over else CLOSE,
            Measure(view.sustained.value, own.continuous_a, "current"),
            numbers,
            texts,
        )


def _mend(evidence: Evidence, view: RunView, own: FuseView) -> str:
    """The next fuse that carries the load, and the wire it needs when this one does not allow it."""
    fuse = _larger(own, view.sustained.value)
    if fuse is None:
        return "share the load between two runs, or take a larger kind of fuse"
    if fuse.rating_a <= allowed_behind(evidence, view):
        return f"fit {fuse}; the wire allows it"
    return f"{wires_behind(evidence, view, fuse.rating_a)} and fit {fuse}: the wire now laid does not allow it"


def _larger(own: FuseView, load_a: float) -> Fuse | None:
    """The smallest fuse of the kind that carries a load for hours where it sits."""
    for rating in own.fuse.family.ratings_a:
        fuse = with_rating(own.fuse, rating)
        if rating > own.rating_a and continuous_a(fuse, own.ambient_c) >= load_a:
            return fuse
    return None
