"""A reading as the diagnosis takes it: where, in which situation, how much."""

from dataclasses import replace

from ..site.record import record
from .points import Point
from .situation import Situation


@record(frozen=True)
class Observation:
    """A reading that the network can explain. `value` in V or A; `uncertainty` is 0 where only the meter errs."""

    point: Point
    situation: Situation
    value: float
    uncertainty: float = 0.0
    number: int = 0  # of the stored reading


def renamed(observation: Observation, point: Point, situation: Situation) -> Observation:
    """The same figure taken for another point in another situation."""
    return replace(observation, point=point, situation=situation)
