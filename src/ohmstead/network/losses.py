"""What a converter loses: a curve through what the builder knows, and the part of it that a case needs."""

from ..site.record import record

SHARE_OF_LEAST = 0.3  # no-load loss where neither idle draw nor three points are known, of the least known loss
Point = tuple[float, float]


@record(frozen=True)
class Parabola:
    """Loss = a + b·P + c·P², P the output power. [W, 1, 1/W]"""

    idle_w: float
    fraction: float
    per_w: float

    def lost_w(self, output_w: float) -> float:
        """Heat in the converter at an output power. [W]"""
        return self.idle_w + self.fraction * output_w + self.per_w * output_w * output_w


@record(frozen=True)
class Losses:
    """A converter's loss over its output power.

    Straight lines through `points` (output power, loss), the first at no load; or `parabola` where the
    builder gave three efficiencies and no idle draw. Beyond the last point the last line goes on.
    """

    points: tuple[Point, ...]
    parabola: Parabola | None = None

    @property
    def idle_w(self) -> float:
        """Loss with nothing connected. [W]"""
        return self.points[0][1]

    def lost_w(self, output_w: float) -> float:
        """Heat in the converter at an output power. [W]"""
        if self.parabola is not None:
            return max(self.parabola.lost_w(output_w), 0.0)
        before, after = self.points[0], self.points[-1]
        for left, right in zip(self.points, self.points[1:], strict=False):
            before, after = left, right
            if output_w <= right[0]:
                break
        if after[0] == before[0]:
            return before[1]
        return before[1] + (after[1] - before[1]) * (output_w - before[0]) / (after[0] - before[0])

    def fraction_at(self, output_w: float) -> float:
        """The share b for which idle + b·P is the true loss at this output power; no load leaves the idle draw."""
        if output_w <= 0.0:
            return 0.0
        return max(0.0, (self.lost_w(output_w) - self.idle_w) / output_w)


def loss_curve(rating_w: float, efficiency: tuple[Point, ...], idle_w: float | None) -> Losses:
    """The loss curve of a converter.

    Parameters
    ----------
    rating_w : float
        Rated output. [W]
    efficiency : tuple of (share of rating, efficiency)
        Both as fractions of 1, the shares rising.
    idle_w : float or None
        No-load input power; None when it is not known. [W]
    """
    known = tuple((share * rating_w, share * rating_w * (1 / eta - 1)) for share, eta in sorted(efficiency))
    if idle_w is not None:
        return Losses(((0.0, idle_w), *known))
    if len(known) == 3:
        parabola = through_three(known)
        if parabola.idle_w >= 0.0:
            return Losses(((0.0, parabola.idle_w), *known), parabola)
    return Losses(((0.0, SHARE_OF_LEAST * min(loss for _, loss in known)), *known))


def through_three(known: tuple[Point, ...]) -> Parabola:
    """The parabola through three points (output power, loss). [W, W]

    Source
    ------
    Fixed, proportional and square losses: common practice, no source; the arithmetic is exact.

    Examples
    --------
    >>> points = tuple((p, p * (1 / eta - 1)) for p, eta in ((0.1, 0.85), (0.5, 0.94), (1.0, 0.925)))
    >>> fit = through_three(points)
    >>> round(fit.idle_w, 5), round(fit.fraction, 5), round(fit.per_w, 5)
    (0.01756, -0.00611, 0.06963)
    """
    (x0, y0), (x1, y1), (x2, y2) = known
    first = (y1 - y0) / (x1 - x0)
    second = ((y2 - y1) / (x2 - x1) - first) / (x2 - x0)
    b = first - second * (x0 + x1)
    return Parabola(y0 - b * x0 - second * x0 * x0, b, second)
