"""What readings of a sound supply say about its parts: every parameter with its uncertainty afterwards.

Bayes' rule with normal distributions: the same linear law as in the diagnosis, without a fault.
"""

from collections.abc import Sequence

import numpy as np

from ..site.record import record
from .diagnose import named_faults, weighed
from .diagnosis import Fault
from .observation import Observation
from .situation import Bench
from .watched import Floats
from .weigh import State

LEAST_RATIO = 1.5  # readings that sharpen a figure by less are not worth a change of the file


@record(frozen=True)
class Learned:
    """One parameter before and after the readings, values and standard deviations in the unit of its dimension."""

    parameter: str
    kind: str
    subject: str
    aspect: str
    dimension: str
    before_value: float
    before_uncertainty: float
    value: float
    uncertainty: float

    @property
    def ratio(self) -> float:
        """How much sharper it is known."""
        return self.before_uncertainty / self.uncertainty


@record(frozen=True)
class Lesson:
    """Everything learned, or the faults that have to be mended first. `covariance` goes with the parameters."""

    faults: tuple[Fault, ...]
    learned: tuple[Learned, ...]
    values: Floats
    covariance: Floats

    def mean_of(self, indexes: Sequence[int]) -> tuple[float, float]:
        """Mean of several parameters and its standard deviation."""
        picked = list(indexes)
        variance = float(self.covariance[np.ix_(picked, picked)].mean())
        return float(self.values[picked].mean()), float(np.sqrt(max(variance, 0.0)))


def learn(bench: Bench, observations: Sequence[Observation]) -> Lesson:
    """Every parameter after the readings. Needs numpy. Raises as `diagnose`.

    When a fault is likelier than none, nothing is learned: its readings would be taken for the parts' own.
    """
    states = weighed(bench, observations)
    best = states[0]
    if named_faults(best):
        return Lesson(named_faults(best), (), best.values, np.zeros((0, 0)))
    covariance = posterior(best)
    deviation = np.sqrt(np.maximum(np.diag(covariance), 0.0))
    found = []
    for k, parameter in enumerate(bench.parameters):
        if parameter.sigma > 0.0 and deviation[k] > 0.0:
            found.append(
                Learned(
                    parameter.id,
                    parameter.kind,
                    parameter.subject,
                    parameter.aspect,
                    parameter.dimension,
                    parameter.bounds.nominal,
                    parameter.sigma,
                    float(best.values[k]),
                    float(deviation[k]),
                )
            )
    return Lesson((), tuple(found), best.values, covariance)


def posterior(state: State) -> Floats:
    """Covariance of the parameters after the readings, for a state without faults: Σ − Σ·Sᵀ·C⁻¹·S·Σ."""
    variance = state.ground.sigma**2
    across = state.inner.slopes * variance
    return np.asarray(np.diag(variance) - across.T @ np.linalg.solve(state.inner.covariance, across), dtype=np.float64)
