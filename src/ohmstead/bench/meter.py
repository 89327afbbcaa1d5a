"""The meter: how far its figure may be from the truth."""

from collections.abc import Iterator
from re import fullmatch

from ..quantity.read import read_number
from ..quantity.show import show
from ..quantity.span import Span
from ..site.record import record

FUNCTIONS = ("volts", "amps", "clamp")

Piece = tuple[str, Span, str, str, str]  # aspect, bounds, shape, dimension, how


@record(frozen=True)
class Scale:
    """One measuring range: the most it shows and what its last digit is worth."""

    limit: float
    digit_value: float


@record(frozen=True)
class Function:
    """One function of a meter: accuracy as a share of the reading and counts of the last digit."""

    accuracy_fraction: float
    n_digit: int
    scales: tuple[Scale, ...]

    def scale(self, value: float) -> Scale:
        """The smallest range that shows a value; the largest where none does."""
        return next((scale for scale in self.scales if abs(value) <= scale.limit), self.scales[-1])

    def counts(self, value: float) -> float:
        """What the counts may add or take, in the unit of the reading."""
        return self.n_digit * self.scale(value).digit_value


@record(frozen=True)
class Meter:
    """A multimeter and a clamp. `zero_a` is how far the clamp's zero may be off after it was zeroed."""

    name: str
    volts: Function
    amps: Function
    clamp: Function
    zero_a: float

    def function(self, method: str) -> Function:
        """The function that a method uses: "volts", "amps" or "clamp"."""
        return {"volts": self.volts, "amps": self.amps, "clamp": self.clamp}[method]

    @property
    def sheet(self) -> str:
        """Its accuracy as `stated` reads it.

        >>> HANDHELD.sheet
        'volts 0.5 % + 3, amps 1 % + 3, clamp 2 % + 3, zero 30 mA'
        """
        shares = [
            f"{name} {100 * self.function(name).accuracy_fraction:g} % + {self.function(name).n_digit}"
            for name in FUNCTIONS
        ]
        return ", ".join([*shares, f"zero {show(self.zero_a, 'current')}"])

    def parameters(self) -> Iterator[Piece]:
        """What the meter itself adds to the parameters of a site."""
        for aspect, function in (("volts gain", self.volts), ("amps gain", self.amps), ("clamp gain", self.clamp)):
            share = function.accuracy_fraction
            yield aspect, Span(-share, 0.0, share), "uniform", "share", "stated"
        yield "clamp zero", Span(-self.zero_a, 0.0, self.zero_a), "uniform", "current", "stated"


# A handheld meter of 6000 counts and a Hall clamp, as their sheets usually say: common practice, no source.
HANDHELD = Meter(
    "meter",
    Function(0.005, 3, (Scale(0.06, 1e-5), Scale(0.6, 1e-4), Scale(6.0, 1e-3), Scale(60.0, 0.01), Scale(600.0, 0.1))),
    Function(0.01, 3, (Scale(0.06, 1e-5), Scale(0.6, 1e-4), Scale(6.0, 1e-3), Scale(10.0, 0.01))),
    Function(0.02, 3, (Scale(60.0, 0.01), Scale(600.0, 0.1))),
    0.03,
)


def stated(text: str, usual: Meter = HANDHELD) -> Meter:
    """A meter by what its sheet says; what is left out stays as usual. Raises ValueError.

    >>> meter = stated("volts 0.8 % + 5, clamp 3 % + 5, zero 50 mA")
    >>> meter.volts.accuracy_fraction, meter.volts.n_digit, meter.amps == HANDHELD.amps, meter.zero_a
    (0.008, 5, True, 0.05)
    """
    functions, zero_a = {name: usual.function(name) for name in FUNCTIONS}, usual.zero_a
    for piece in text.split(","):
        word, _, rest = piece.strip().partition(" ")
        if word == "zero":
            zero_a = read_number(rest, "current")
            continue
        share = fullmatch(r"(\d+(?:\.\d+)?)\s*%\s*(?:\+\s*(\d+))?", rest.strip())
        if word not in FUNCTIONS or share is None:
            raise ValueError(piece.strip())
        n_digit = int(share[2]) if share[2] else 0
        functions[word] = Function(float(share[1]) / 100.0, n_digit, functions[word].scales)
    return Meter(usual.name, functions["volts"], functions["amps"], functions["clamp"], zero_a)
