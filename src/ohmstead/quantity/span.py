"""A value with its bounds: exact, with a tolerance, or a range."""

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Span:
    """Lowest, nominal and highest value, in the base unit of its dimension.

    An exact value has all three equal; a range has its middle as nominal. `stated` remembers how
    the builder wrote it ("exact", "range", "percent", "amount", or "" when computed); it only
    serves printing and does not count in comparisons.
    """

    low: float
    nominal: float
    high: float
    stated: str = field(default="", compare=False)

    def __post_init__(self) -> None:
        if not self.low <= self.nominal <= self.high:
            raise ValueError(f"a span runs low <= nominal <= high, not {self.low}, {self.nominal}, {self.high}")

    @classmethod
    def exact(cls, value: float) -> "Span":
        """A value without any spread."""
        return cls(value, value, value, "exact")

    @classmethod
    def between(cls, low: float, high: float) -> "Span":
        """A range; its nominal value is the middle."""
        middle = low / 2 + high / 2
        return cls(low, min(max(middle, low), high), high, "range")

    @property
    def is_exact(self) -> bool:
        """True when low and high are the same value."""
        return self.low == self.high
