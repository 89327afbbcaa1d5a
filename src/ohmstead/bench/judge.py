"""What one reading says: inside its band, just outside, or stop."""

from ..site.record import record
from .step import Step
from .words import CAUSES

STOP_TIMES = 1.7  # half-widths of the 95 % band at which 999 of 1000 fault-free readings lie: 3.29 / 1.96


@record(frozen=True)
class Verdict:
    """`word` is "good", "look" (outside, though one fault-free reading in twenty is) or "stop".

    `side` is "low", "high" or empty; `causes` are the likely ones, most likely first.
    """

    word: str
    side: str = ""
    causes: tuple[str, ...] = ()


def judge(step: Step, value: float) -> Verdict:
    """Judge a reading. A tick is 1 when what the step says is so, else 0. [base unit of the step's dimension]"""
    if step.asks == "tick":
        return Verdict("good") if value else Verdict("stop", "", step.causes_high or step.causes_low)
    if step.low is not None and value < step.low:
        side, causes = "low", step.causes_low
    elif step.high is not None and value > step.high:
        side, causes = "high", step.causes_high
    else:
        return Verdict("good")
    if step.dimension == "voltage" and step.low is not None and step.low > 0.0 > value:
        return Verdict("stop", "low", CAUSES["reversed"])
    return Verdict("look" if _is_near(step, value) else "stop", side, causes)


def _is_near(step: Step, value: float) -> bool:
    """True when a reading outside a two-sided band is one that chance still makes now and then."""
    if step.low is None or step.high is None or step.value is None:
        return False
    return abs(value - (step.low + step.high) / 2) <= STOP_TIMES * (step.high - step.low) / 2
