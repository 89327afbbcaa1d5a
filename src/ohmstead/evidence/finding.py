"""What a rule says: one finding, with its numbers, its source and its cure."""

from collections.abc import Mapping
from dataclasses import field, replace
from enum import StrEnum

from ..quantity.show import show
from ..site.place import Place
from ..site.record import record


class Severity(StrEnum):
    """How much a finding matters, gravest first."""

    DANGER = "danger"
    FAILS = "fails"
    TIGHT = "tight"
    FINE = "fine"


GRAVITY = {Severity.DANGER: 0, Severity.FAILS: 1, Severity.TIGHT: 2, Severity.FINE: 3}


@record(frozen=True)
class Source:
    """Where a rule comes from: a key of the bibliography and the place in it."""

    key: str
    place: str = ""


@record(frozen=True)
class Number:
    """A figure a finding was computed from, for `explain`. how: "stated", "table", "assumed" or "computed"."""

    value: float
    dimension: str
    how: str = "computed"
    digits: int = 3

    def __str__(self) -> str:
        return show(self.value, self.dimension, self.digits)


@record(frozen=True)
class Finding:
    """One fault, or one thing found in order.

    `value` and `limit` are in the SI unit of `dimension` (see quantity); `margin_fraction` is how far the
    value stays from the limit, relative to the limit, negative when it is past. `case` is the name of the
    operating case that made it, empty when no case is needed.
    """

    rule: str
    subject: str
    place: Place
    severity: Severity
    message: str
    mend: str
    source: Source
    case: str = ""
    value: float | None = None
    limit: float | None = None
    dimension: str = ""
    margin_fraction: float | None = None
    numbers: Mapping[str, Number] = field(default_factory=dict)
    accepted: str = ""

    def accept(self, because: str) -> "Finding":
        """The same finding, accepted by the builder for a reason."""
        return replace(self, accepted=because)


@record(frozen=True)
class Words:
    """The texts of a finding; `{name}` is filled with the number of that name, printed with its unit."""

    message: str
    mend: str


def fill(words: Words, numbers: Mapping[str, Number], texts: Mapping[str, str]) -> Words:
    """Fill both texts from numbers (printed) and texts (as they are)."""
    filled = {name: str(number) for name, number in numbers.items()} | dict(texts)
    return Words(words.message.format(**filled), words.mend.format(**filled))
