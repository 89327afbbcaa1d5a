"""One step of the switch-on plan, and what a reading says about it."""

from ..site.record import record
from .points import Point
from .situation import Situation


@record(frozen=True)
class Step:
    """What to do, where the probes go, what to expect.

    `id` stays the same when the plan is made again; a stored reading names it. `stage` is a key of `words.STAGES`.
    `asks` is "number" or "tick". `low` and `high` are the band in the base unit of `dimension`, None where there is
    no such limit; `value` is None where only limits count. `marks` are the probe marks on the drawing.
    `point` and `situation` tell which reading of the network it is, None for what no network can tell.
    """

    id: str
    stage: str
    title: str
    act: str
    probes: str = ""
    marks: tuple[str, ...] = ()
    asks: str = "number"
    dimension: str = ""
    value: float | None = None
    low: float | None = None
    high: float | None = None
    point: Point | None = None
    situation: Situation | None = None
    causes_low: tuple[str, ...] = ()
    causes_high: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    basis: str = ""

    @property
    def quantity(self) -> str:
        """What a stored reading calls its quantity: the dimension, or "tick"."""
        return self.dimension if self.asks == "number" else "tick"


@record(frozen=True)
class Plan:
    """The steps in their order, for one text of the site file; `revision` is its checksum,
    `meter` the accuracy of the meter that the bands are for."""

    site: str
    revision: str
    confidence_fraction: float
    meter: str
    marks: tuple[tuple[str, str, str], ...]  # probe mark, "point" or "run", the name of it
    steps: tuple[Step, ...]

    def step(self, id: str) -> Step:
        """The step of an id. Raises KeyError."""
        for step in self.steps:
            if step.id == id:
                return step
        raise KeyError(id)
