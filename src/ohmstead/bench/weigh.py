"""How well a set of faults explains the readings: the probability of the readings under it.

Parameters stray normally about their nominal values, faults move some of them by a mixture of sizes. To first
order the readings are then normal, with covariance C = S·Σ·Sᵀ + R; the supply is solved anew at the likeliest
values until the straight line no longer matters (Laplace's method with iterated linearisation).
Source: Bayesian model comparison with a linear model, from memory of Bishop, Pattern Recognition, 3.3-3.5.
"""

from dataclasses import replace

import numpy as np

from ..site.record import record
from .suspects import Suspect
from .watched import Block, Floats, Watched, deviations, linearise, nominal, refresh, stacked

MOST_ROUNDS = 4


@record(frozen=True)
class Fault:
    """One suspect taken as true, and which of its sizes fits best."""

    suspect: int
    size: int


@record(frozen=True)
class State:
    """A set of faults with what follows from it. `ground` says in which supply: as written, or with circuits swapped.

    `log_fit` is the log probability density of the readings, `log_odds` that of the faults before any reading.
    `values` are the likeliest parameters, `covariance` theirs. `blocks` is where the supply was last solved.
    """

    ground: "Ground"
    faults: tuple[Fault, ...]
    log_fit: float
    log_odds: float
    values: Floats
    blocks: tuple[Block, ...]
    inner: "Inner"

    @property
    def log_weight(self) -> float:
        """Fit and odds together."""
        return self.log_fit + self.log_odds

    @property
    def key(self) -> tuple[str, frozenset[int]]:
        """Which faults it holds, in whatever order they were found."""
        return self.ground.name, frozenset(fault.suspect for fault in self.faults)


@record(frozen=True)
class Inner:
    """The linear algebra of a state: slopes, covariance of the readings, and what is left unexplained."""

    slopes: Floats  # S
    covariance: Floats  # C
    residual: Floats  # readings minus what is expected before any stray
    pull: Floats  # C⁻¹·residual
    drawn: Floats  # C⁻¹·f, a column for each fault of the state
    misfit: float  # residualᵀ·C⁻¹·residual


@record(frozen=True)
class Ground:
    """What stays the same during a diagnosis."""

    watched: Watched
    suspects: tuple[Suspect, ...]
    centre: Floats
    sigma: Floats
    name: str = ""  # of the circuits that are swapped
    log_odds: float = 0.0

    def column(self, suspect: Suspect, slopes: Floats) -> Floats:
        """How a suspect moves the readings, a unit of its size."""
        if suspect.column >= 0:
            return np.asarray(slopes[:, suspect.column], dtype=np.float64)
        alone = np.zeros(len(slopes))
        alone[-1 - suspect.column] = 1.0
        return alone

    def columns(self, slopes: Floats) -> Floats:
        """The same for all suspects, side by side."""
        n = len(slopes)
        wide = np.hstack([slopes, np.eye(n)[:, ::-1]])  # column -1 - i is reading i
        return np.asarray(wide[:, [s.column for s in self.suspects]], dtype=np.float64)


def ground_of(watched: Watched, suspects: tuple[Suspect, ...]) -> Ground:
    """A diagnosis made ready."""
    return Ground(watched, suspects, nominal(watched.bench), deviations(watched.bench))


def weigh(ground: Ground, faults: tuple[Fault, ...], start: State | None = None) -> State:
    """The state of a set of faults, solved anew where needed; `start` is a state from which to begin."""
    watched = ground.watched
    blocks = start.blocks if start is not None else linearise(watched, ground.centre)
    values = start.values if start is not None else ground.centre
    for _ in range(MOST_ROUNDS):
        y0, slopes = stacked(watched, blocks)
        faults, inner, log_fit, values, extra = _settled(ground, faults, y0, slopes)
        again = refresh(watched, blocks, _near(ground, faults, values))
        if all(new is old for new, old in zip(again, blocks, strict=True)):
            break
        blocks = again
    log_odds = ground.log_odds + float(sum(np.log(ground.suspects[f.suspect].odds) for f in faults))
    return State(ground, faults, log_fit + extra, log_odds, values, blocks, inner)


def _near(ground: Ground, faults: tuple[Fault, ...], values: Floats) -> Floats:
    """Values to solve at: what no fault moves stays within four deviations, however badly it fits."""
    near = np.clip(values, ground.centre - 4.0 * ground.sigma, ground.centre + 4.0 * ground.sigma)
    moved = [column for f in faults if (column := ground.suspects[f.suspect].column) >= 0]
    near[moved] = values[moved]
    return np.asarray(near, dtype=np.float64)


def _settled(
    ground: Ground, faults: tuple[Fault, ...], y0: Floats, slopes: Floats
) -> tuple[tuple[Fault, ...], Inner, float, Floats, float]:
    """Sizes chosen one fault after the other, the others held, until none changes."""
    for _ in range(3):
        inner, log_fit, values = _fitted(ground, faults, y0, slopes)
        chosen, extra = [], 0.0
        for place, fault in enumerate(faults):
            logs = size_logs(ground, inner, fault, place)
            best = int(np.argmax(logs))
            extra += float(
                _log_sum(logs) - logs[fault.size] + np.log(ground.suspects[fault.suspect].shares[fault.size])
            )
            chosen.append(replace(fault, size=best))
        if tuple(chosen) == faults:
            break
        faults = tuple(chosen)
    return faults, inner, log_fit, values, extra


def _fitted(ground: Ground, faults: tuple[Fault, ...], y0: Floats, slopes: Floats) -> tuple[Inner, float, Floats]:
    watched = ground.watched
    mean, variance = ground.centre.copy(), ground.sigma**2
    shift, own = np.zeros(len(y0)), watched.variance.copy()
    for fault in faults:
        suspect = ground.suspects[fault.suspect]
        if suspect.column >= 0:
            mean[suspect.column] += suspect.sizes[fault.size]
            variance[suspect.column] += suspect.variances[fault.size]
        else:
            row = -1 - suspect.column
            shift[row] += suspect.sizes[fault.size]
            own[row] += suspect.variances[fault.size]
    scaled = slopes * np.sqrt(variance)
    covariance = scaled @ scaled.T
    covariance[np.diag_indices_from(covariance)] += own
    residual = watched.value - y0 - slopes @ mean - shift
    moved = [ground.column(ground.suspects[fault.suspect], slopes) for fault in faults]
    both = np.linalg.solve(covariance, np.column_stack([residual, *moved]))
    pull = np.asarray(both[:, 0], dtype=np.float64)
    misfit = float(residual @ pull)
    half_log_det = float(np.sum(np.log(np.diag(np.linalg.cholesky(covariance)))))
    log_fit = -0.5 * (misfit + len(y0) * np.log(2.0 * np.pi)) - half_log_det
    values = mean + variance * (slopes.T @ pull)
    return (
        Inner(slopes, covariance, residual, pull, np.asarray(both[:, 1:], dtype=np.float64), misfit),
        float(log_fit),
        values,
    )


def size_logs(ground: Ground, inner: Inner, fault: Fault, place: int) -> Floats:
    """Log share times likelihood of each size of a fault that is in the state, against the state without it."""
    suspect = ground.suspects[fault.suspect]
    size, variance = suspect.sizes[fault.size], suspect.variances[fault.size]
    column = ground.column(suspect, inner.slopes)
    q = float(column @ inner.drawn[:, place])
    rest = max(1.0 - variance * q, 1e-12)
    b = (float(column @ inner.pull) + size * q) / rest
    return gains(suspect, q / rest, b)


def gains(suspect: Suspect, x: float, y: float) -> Floats:
    """Log of share times the factor by which each size of a suspect raises the probability of the readings.

    x = fᵀC⁻¹f and y = fᵀC⁻¹r of its column f, without it.
    """
    c, s2 = suspect.sizes, suspect.variances
    bend = np.maximum(1.0 + x * s2, 1e-12)
    return np.asarray(
        np.log(suspect.shares) - 0.5 * np.log(bend) + (y * c - 0.5 * x * c**2 + 0.5 * s2 * y**2) / bend,
        dtype=np.float64,
    )


def _log_sum(logs: Floats) -> float:
    top = float(np.max(logs))
    return top + float(np.log(np.sum(np.exp(logs - top))))


def misfit_deviations(inner: Inner) -> float:
    """How far the misfit is from what chance makes, as a normal deviation (Wilson and Hilferty 1931, from memory)."""
    n = len(inner.residual)
    return float(((max(inner.misfit, 0.0) / n) ** (1 / 3) - (1 - 2 / (9 * n))) / np.sqrt(2 / (9 * n)))
