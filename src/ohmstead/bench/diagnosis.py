"""What a diagnosis says: explanations with their probability, what cannot be told apart, what to read next."""

from ..site.record import record
from .points import Point
from .situation import Situation


@record(frozen=True)
class Fault:
    """One thing that is wrong, with how much.

    `kind`: "joint", "set-point", "charger", "idle", "draw", "wire", "fuse", "swap", "battery", "zero", "gain" or
    "misread"; `subject` a run, part, meter or the id of the reading, `place` the joint, state or other circuit.
    `size` is what is added to the usual figure, `uncertainty` its standard deviation, both in the base unit of
    `dimension`; `usual` is that figure. `name` is the wire or fuse that fits best, where sizes have names.
    """

    kind: str
    subject: str
    place: str = ""
    size: float = 0.0
    uncertainty: float = 0.0
    usual: float = 0.0
    dimension: str = ""
    name: str = ""

    @property
    def key(self) -> tuple[str, str, str]:
        """Which fault it is, whatever its size."""
        return self.kind, self.subject, self.place


@record(frozen=True)
class Explanation:
    """One set of faults, empty when nothing is wrong. `misfit` is about the number of readings where it fits."""

    faults: tuple[Fault, ...]
    probability_fraction: float
    misfit: float
    log_fit: float


@record(frozen=True)
class Suspicion:
    """One fault over all explanations that hold it."""

    fault: Fault
    probability_fraction: float


@record(frozen=True)
class NextReading:
    """A reading that would tell more: `bits` is the expected gain of information about the explanations.

    `expected` is what it would read under the first explanations, in their order; None where that is not known.
    """

    point: Point
    situation: Situation
    bits: float
    expected: tuple[float | None, ...]


@record(frozen=True)
class Diagnosis:
    """The answer. `verdict`: "fine" when nothing being wrong is the likeliest of all, "found" when faults explain the
    readings better, "unexplained" when no set of up to three faults does.

    `alike` groups the places of explanations that these readings cannot tell apart (their fit differs by less than
    a factor of three).
    """

    verdict: str
    n_reading: int
    explanations: tuple[Explanation, ...]
    suspicions: tuple[Suspicion, ...]
    alike: tuple[tuple[int, ...], ...]
    next_readings: tuple[NextReading, ...] = ()
