"""Strings side by side feed a fault in one of them; without its own fuse its modules burn."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("string-needs-fuse", Source("iec-62548", "overcurrent protection of strings"))
NEEDED = Words(
    "a fault in one string of {subject} is fed with {value} by the others; its modules bear {limit}",
    "put a fuse for direct voltage of {fuse} or less, and more than {least}, in every string; state it as string fuse",
)
TOO_LARGE = Words(
    "the string fuse of {subject} is {value}; its modules bear {limit}",
    "fit a fuse of {fuse} or less, and more than {least}, in every string",
)
LEAST_FUSE = 1.5  # over the short current of a string, so that strong sun does not melt it; IEC 62548, from memory


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.arrays:
        array = view.array
        if array.series_fuse_a is None or array.short_a is None:
            continue
        numbers = {
            "fuse": Number(array.series_fuse_a, "current", "stated"),
            "least": Number(LEAST_FUSE * array.short_a, "current"),
        }
        subject = Subject(view.name, view.place)
        if array.string_fuse_a is not None:
            measure = Measure(array.string_fuse_a, array.series_fuse_a, "current")
            if measure.value > measure.limit:
                yield RULE.find(Severity.DANGER, subject, TOO_LARGE, measure, numbers)
        elif view.others_short_a is not None and view.others_short_a > array.series_fuse_a:
            measure = Measure(view.others_short_a, array.series_fuse_a, "current")
            yield RULE.find(Severity.DANGER, subject, NEEDED, measure, numbers)
