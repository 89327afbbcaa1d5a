"""What a converter loses: idle, proportional and square parts, fitted to what the builder knows."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Losses:
    """Loss = a + b·P + c·P², P the output power. [W, 1, 1/W]"""

    idle_w: float
    fraction: float
    per_w: float

    def lost_w(self, output_w: float) -> float:
        """Heat in the converter at an output power. [W]"""
        return self.idle_w + self.fraction * output_w + self.per_w * output_w * output_w


def fit_losses(rating_w: float, points: tuple[tuple[float, float], ...], idle_w: float | None) -> Losses:
    """Fit the loss parabola through efficiency points, with the idle draw when it is known.

    P_loss(P_i) = P_i·(1/η_i - 1). Three points without an idle draw are met exactly. With the idle draw,
    or with fewer points, the remaining coefficients are fitted by least squares on relative loss; a square
    part that comes out negative is set to zero and the proportional part fitted again, since no converter
    gets better by being loaded beyond its points.

    Parameters
    ----------
    rating_w : float
        Rated output. [W]
    points : tuple of (share of rating, efficiency)
        Both as fractions of 1.
    idle_w : float or None
        No-load input power; None when it is not known. [W]

    Source
    ------
    Loss model of proportional and square parts: common practice, no source; the arithmetic is exact.

    Examples
    --------
    >>> fit = fit_losses(100.0, ((0.1, 0.85), (0.5, 0.94), (1.0, 0.925)), None)
    >>> round(fit.idle_w, 3), round(fit.fraction, 5)
    (1.756, -0.00611)
    """
    known = [(share * rating_w, share * rating_w * (1 / efficiency - 1)) for share, efficiency in points]
    if idle_w is None and len(known) == 3:
        return _through_three(known)
    idle = min(loss for _, loss in known) * 0.3 if idle_w is None else idle_w
    return _with_idle(idle, known)


def _through_three(known: list[tuple[float, float]]) -> Losses:
    (x0, y0), (x1, y1), (x2, y2) = known
    first = (y1 - y0) / (x1 - x0)
    second = ((y2 - y1) / (x2 - x1) - first) / (x2 - x0)
    b = first - second * (x0 + x1)
    return Losses(y0 - b * x0 - second * x0 * x0, b, second)


def _with_idle(idle_w: float, known: list[tuple[float, float]]) -> Losses:
    """Least squares of (loss - idle)/P = b + c·P; c only from two points on, and never negative."""
    ratio = [((loss - idle_w) / power, power) for power, loss in known]
    n = len(ratio)
    mean_y = sum(y for y, _ in ratio) / n
    mean_x = sum(x for _, x in ratio) / n
    spread = sum((x - mean_x) ** 2 for _, x in ratio)
    slope = sum((x - mean_x) * (y - mean_y) for y, x in ratio) / spread if spread > 0 else 0.0
    if slope <= 0:
        return Losses(idle_w, max(mean_y, 0.0), 0.0)
    return Losses(idle_w, mean_y - slope * mean_x, slope)
