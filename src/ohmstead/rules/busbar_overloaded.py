"""A busbar that carries more than it is made for heats every joint on it."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("busbar-overloaded", Source("common-practice", "rating on the busbar's own sheet"))
SMALL_MARGIN_FRACTION = 0.05  # of the rating; what a clamp meter may be off, common practice
WORDS = Words(
    "up to {value} flow into {subject} for long, rated {limit}",
    "fit a bar rated {ample} or more, or land the largest feed and the largest load on one stud so that their "
    "current does not cross the bar",
)
CLOSE = Words(
    "up to {value} flow into {subject} for long, next to its rating of {limit}",
    "hang nothing more on it; a further load needs a larger bar",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.busbars:
        rating_a = view.part.rating_a
        if rating_a is None or view.current.value <= rating_a * (1 - SMALL_MARGIN_FRACTION):
            continue
        over = view.current.value > rating_a
        yield RULE.find(
            Severity.DANGER if over else Severity.TIGHT,
            Subject(view.name, view.place, view.current.case),
            WORDS if over else CLOSE,
            Measure(view.current.value, rating_a, "current"),
        )
