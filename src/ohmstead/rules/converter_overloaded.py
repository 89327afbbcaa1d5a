"""A converter asked for more than its rating runs hot, sags or shuts down."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import ConverterView, Evidence, Worst

RULE = Rule("converter-overloaded", Source("common-practice", "rated output on the converter's own sheet"))
SMALL_MARGIN = 0.10  # converters run for hours want a tenth in hand; common practice, no source
OVER = Words(
    "{value} are asked of {subject} for hours; the rating is {limit}",
    "take one rated {next} or more, or move part of its load to another",
)
PEAK = Words(
    "{value} are asked of {subject} while something starts; the rating is {limit}, and whether it gives more for a "
    "moment is not stated",
    "state its `current limit` if the sheet names one, let things start one after the other, or take one rated "
    "{next} or more",
)
CLOSE = Words(
    "{value} are asked of {subject} for hours, over {share} of the rating of {limit}",
    "take one rated {next} or more if it shall last",
)


def overloaded(view: ConverterView) -> bool:
    """True when the output asked of it for hours is over its rating."""
    rating_w = view.converter.rating_w
    return rating_w is not None and view.output_w.value > rating_w


def check(evidence: Evidence) -> Iterator[Finding]:
    with_budget = {view.name for view in evidence.ethernet}
    for view in evidence.converters:
        rating_w = view.converter.rating_w
        if rating_w is None or rating_w <= 0 or view.name in with_budget:
            continue
        if overloaded(view):
            yield _find(Severity.FAILS, view, OVER, view.output_w, rating_w)
        elif view.output_peak_w.value > rating_w and view.converter.limit_a is None:
            yield _find(Severity.TIGHT, view, PEAK, view.output_peak_w, rating_w)
        elif view.output_w.value > rating_w * (1 - SMALL_MARGIN):
            yield _find(Severity.TIGHT, view, CLOSE, view.output_w, rating_w)


def _find(severity: Severity, view: ConverterView, words: Words, asked: Worst, rating_w: float) -> Finding:
    wanted_w = asked.value if words is PEAK else asked.value / (1 - SMALL_MARGIN)
    numbers = {
        "next": Number(float(-(-wanted_w // 1)), "power"),
        "share": Number(1 - SMALL_MARGIN, "share", "assumed"),
        "output": Number(view.output_a.value, "current"),
    }
    subject = Subject(view.name, view.place, asked.case)
    return RULE.find(severity, subject, words, Measure(asked.value, rating_w, "power"), numbers)
