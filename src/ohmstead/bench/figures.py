"""Expected values and readings as text, and text as readings, always in one unit a step."""

import re

from ..quantity.read import read_number
from ..quantity.show import show, show_span
from ..quantity.span import Span
from ..site.record import record
from . import words
from .step import Step

FROM_V = 1.0
OHM = "Ω"
OPEN_OHM = 1e9  # what a meter that shows no figure has before it: more than any handheld one can tell
OVER = ("ol", "o.l", "o.l.", "open", "∞", "1.")  # what meters show then
YES = ("y", "yes", "1", "ok", "done")
NO = ("n", "no", "0")


@record(frozen=True)
class Entered:
    """What somebody typed, understood: the value in the base unit, and how it is shown."""

    value: float
    text: str


def unit_of(step: Step) -> str:
    """The unit in which a bare number is taken, "" for a tick: that of the value to expect."""
    if step.asks == "tick":
        return ""
    sizes = [abs(v) for v in (step.value, step.low, step.high) if v is not None]
    if _in_ohm(step):
        return OHM
    usual = abs(step.value) if step.value else max(sizes, default=1.0)
    return show(usual, step.dimension).rpartition(" ")[2]


def _in_ohm(step: Step) -> bool:
    """True where a multimeter's ohms tell a joint from none, and nothing finer."""
    return step.dimension == "resistance" and step.high is not None and 0.1 <= step.high < 1e3


def shown(value: float, dimension: str) -> str:
    """A value with its unit."""
    if dimension == "resistance" and value >= OPEN_OHM:
        return words.OPEN
    return show(value, dimension, _digits(value, dimension))


def _digits(value: float, dimension: str) -> int:
    """Digits that a handheld meter shows: four of a voltage, three of a drop and of everything else."""
    return 4 if dimension == "voltage" and abs(value) >= FROM_V else 3


def shown_at(step: Step, value: float) -> str:
    """A reading of a step with its unit."""
    if step.asks == "tick":
        return words.TICK if value else words.CROSS
    return f"{value:.3g} {OHM}" if _in_ohm(step) and abs(value) < 1e3 else shown(value, step.dimension)


def value_text(step: Step) -> str:
    """The value to expect, or empty where only limits count."""
    return "" if step.value is None else shown_at(step, step.value)


def band_text(step: Step) -> str:
    """The band: "13.1..13.66 V", "at least 500 kΩ", "yes"."""
    if step.asks == "tick":
        return words.TICK
    if _in_ohm(step):
        return words.MOST.format(limit=shown_at(step, step.high or 0.0))
    if step.low is not None and step.high is not None:
        wide = "range" if _digits(max(abs(step.low), abs(step.high)), step.dimension) > 3 else ""
        middle = min(max((step.low + step.high) / 2, step.low), step.high)
        return show_span(Span(step.low, middle, step.high, wide), step.dimension)
    if step.low is not None:
        return words.LEAST.format(limit=shown(step.low, step.dimension))
    assert step.high is not None
    return words.MOST.format(limit=shown(step.high, step.dimension))


def understand(step: Step, text: str) -> Entered:
    """A reading as typed, with or without a unit, decimal point or comma. Raises ValueError.

    >>> step = Step("x", "load", "x", "x", dimension="current", value=0.023, low=0.02, high=0.026)
    >>> understand(step, "23").text, understand(step, "0,023 A").text
    ('23 mA', '23 mA')
    """
    word = text.strip().lower()
    if step.asks == "tick":
        if word not in YES + NO:
            raise ValueError(words.SAY_YES)
        return Entered(float(word in YES), words.TICK if word in YES else words.CROSS)
    if step.dimension == "resistance" and word in OVER:
        return Entered(OPEN_OHM, words.OPEN)
    plain = re.sub(r"^([-+−]?\s*\d*),(\d+)", r"\1.\2", text.strip()).replace("−", "-")
    bare = re.fullmatch(r"[-+]?\s*(\d+\.?\d*|\.\d+)(e[-+]?\d+)?", plain, re.I)
    value = read_number(f"{plain} {unit_of(step)}" if bare else plain, step.dimension)
    return Entered(value, shown_at(step, value))
