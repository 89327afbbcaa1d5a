"""Say a finding in one call: severity by margin, texts filled from numbers."""

from collections.abc import Mapping
from math import ceil, floor, inf, log10

from ..quantity.show import show
from ..site.place import Place
from ..site.record import record
from .finding import Finding, Number, Severity, Source, Words, fill

MOST_DIGITS = 7


@record(frozen=True)
class Subject:
    """What a finding is about."""

    name: str
    place: Place
    case: str = ""


@record(frozen=True)
class Measure:
    """The value that was judged and the limit it was judged against.

    sense: "most" when the value may be at most the limit, "least" when at least.
    """

    value: float
    limit: float
    dimension: str
    sense: str = "most"

    @property
    def margin_fraction(self) -> float:
        """Distance to the limit relative to it; negative when past."""
        if self.limit == 0 or self.limit in (float("inf"), float("-inf")):
            return float("inf") if self.limit > 0 else 0.0
        gap = self.limit - self.value if self.sense == "most" else self.value - self.limit
        return gap / abs(self.limit)


@record(frozen=True)
class Rule:
    """What every finding of a rule shares: its slug (the file name with hyphens) and its source."""

    slug: str
    source: Source

    def find(
        self,
        severity: Severity,
        subject: Subject,
        words: Words,
        measure: Measure | None = None,
        numbers: Mapping[str, Number] = {},
        texts: Mapping[str, str] = {},
    ) -> Finding:
        """A finding. Texts know `{subject}`, `{value}`, `{limit}`, `{ample}` (the value rounded up) and `{no_more}`
        (the limit rounded down) besides numbers and texts.
        """
        known, besides = dict(numbers), {}
        if measure is not None:
            digits = _telling_apart(measure)
            known["value"] = Number(measure.value, measure.dimension, digits=digits)
            known["limit"] = Number(measure.limit, measure.dimension, digits=digits)
            besides["ample"] = Number(rounded(measure.value, "up", 2), measure.dimension)
            besides["no_more"] = Number(rounded(measure.limit, "down", 4), measure.dimension, digits=4)
        filled = fill(words, known | besides, {"subject": subject.name, **texts})
        return Finding(
            rule=self.slug,
            subject=subject.name,
            place=subject.place,
            severity=severity,
            message=filled.message,
            mend=filled.mend,
            source=self.source,
            case=subject.case,
            value=measure.value if measure else None,
            limit=measure.limit if measure else None,
            dimension=measure.dimension if measure else "",
            margin_fraction=measure.margin_fraction if measure else None,
            numbers=known,
        )


def rounded(value: float, towards: str, digits: int) -> float:
    """A figure that is easy to say and still on the safe side: "up" for what must suffice, "down" for what may be.

    >>> rounded(87.94, "up", 2), rounded(14.126, "down", 4), rounded(14.6, "down", 4)
    (88.0, 14.12, 14.6)
    """
    if value in (0.0, inf, -inf):
        return value
    step = 10.0 ** (floor(log10(abs(value))) + 1 - digits)
    steps = round(value / step, 6)
    return float(f"{(ceil(steps) if towards == 'up' else floor(steps)) * step:.12g}")


def _telling_apart(measure: Measure) -> int:
    """Digits with which value and limit do not look the same, where they are not: 10.97 V and 11 V."""
    pair = (measure.value, measure.limit)
    for digits in range(3, MOST_DIGITS):
        if show(pair[0], measure.dimension, digits) != show(pair[1], measure.dimension, digits):
            return digits
    return 3
