"""A switch or disconnect that carries more than it is made for heats its contacts."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Carrier, DisconnectView, Evidence
from ..site.kinds import Switch

RULE = Rule("switch-overloaded", Source("common-practice", "rating on the switch's own sheet"))
SMALL_MARGIN_FRACTION = 0.05  # of the rating; what a clamp meter may be off, common practice
WORDS = Words(
    "up to {value} flow through {subject} for long; the rating is {limit}",
    "take one rated {ample} or more, or move part of the load to a feed of its own",
)
CLOSE = Words(
    "up to {value} flow through {subject} for long, next to the rating of {limit}",
    "hang nothing more on it; a further device needs a larger one",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    views: list[Carrier[Switch] | DisconnectView] = [*evidence.switches, *evidence.disconnects]
    for view in views:
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
