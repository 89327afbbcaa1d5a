"""How much heat a box bears before a part passes its limit, and how soon it does when the fan fails."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from ..site.record import record
from .around import Around
from .box import Box, FixedSpeed
from .model import Heat, day, steady
from .state import Transient
from .trace import Trace

LONG_S = 30 * 86400.0  # later than this is never


@record(frozen=True)
class Limit:
    """Hottest air that a part bears where it stands."""

    part: str
    height_m: float
    hottest_c: float


@record(frozen=True)
class Allowed:
    """Share of today's heat that the box bears, and whose limit decides; 0 where it is too hot without any."""

    share: float
    part: str


def excess_k(trace: Trace, limits: Sequence[Limit]) -> tuple[float, str]:
    """How far the worst part is above its limit, negative while there is room.

    Parameters
    ----------
    trace : Trace
        Of a day or a year.
    limits : sequence of Limit
        At least one.

    Returns
    -------
    tuple of float and str
        Excess, and the part. [K]

    Source
    ------
    None needed: a difference.

    Examples
    --------
    >>> from ohmstead.heat.around import still
    >>> box = Box(0.6, 0.5, 0.3)
    >>> excess_k(steady(box, still(30.0), {}), [Limit("switch", 0.3, 45.0)])
    (-15.0, 'switch')
    """
    found = [(trace.hottest(limit.height_m)[1] - limit.hottest_c, limit.part) for limit in limits]
    worst, part = max(found, key=lambda pair: pair[0])
    return round(worst, 9), part


def allowed_heat(box: Box, around: Around, heat_w: Heat, limits: Sequence[Limit]) -> Allowed:
    """Share of the heat, all gear alike, at which the worst part stands at its limit over the day.

    Parameters
    ----------
    box : Box
        The cabinet.
    around : Around
        Its surroundings, a day.
    heat_w : mapping
        Heat that each gear gives off, by name. [W]
    limits : sequence of Limit
        What each part bears.

    Returns
    -------
    Allowed
        The share, and the part that decides it; infinite without heat or where a hundred times would still do.

    Source
    ------
    docs/methods/heat.md

    Examples
    --------
    >>> from ohmstead.heat.around import still
    >>> from ohmstead.heat.box import Gear
    >>> box = Box(0.6, 0.5, 0.3, gear=(Gear("a", 0.15), Gear("b", 0.45)))
    >>> found = allowed_heat(box, still(45.0), {"a": 17.5, "b": 17.5}, [Limit("a", 0.15, 60.0), Limit("b", 0.45, 60.0)])
    >>> found.part, round(found.share, 2)
    ('b', 1.28)
    """

    def excess(share: float) -> tuple[float, str]:
        return excess_k(day(box, around, scaled(heat_w, share)), limits)

    under, over = 0.0, 1.0
    under_k, part = excess(under)
    if under_k > 0.0:
        return Allowed(0.0, part)
    over_k, part = excess(over)
    while over_k < 0.0:
        under, under_k, over = over, over_k, 2.0 * over
        if over > 100.0:
            return Allowed(float("inf"), part)
        over_k, part = excess(over)
    kept = 0
    for _ in range(30):
        share = under + (over - under) * under_k / (under_k - over_k) if over_k != under_k else over
        now_k, part = excess(share)
        if abs(now_k) < 0.01 or over - under < 1e-4 * over:
            return Allowed(share, part)
        if now_k > 0.0:
            over, over_k, under_k, kept = share, now_k, under_k * (0.5 if kept == 1 else 1.0), 1
        else:
            under, under_k, over_k, kept = share, now_k, over_k * (0.5 if kept == -1 else 1.0), -1
    return Allowed(under, part)


def scaled(heat_w: Heat, share: float) -> Mapping[str, float | Sequence[float]]:
    """All heat times a share.

    Parameters
    ----------
    heat_w : mapping
        Heat that each gear gives off, by name. [W]
    share : float
        Factor.

    Returns
    -------
    mapping
        The same gear. [W]

    Source
    ------
    None needed.

    Examples
    --------
    >>> scaled({"a": 10.0, "b": [1.0, 2.0]}, 2.0)
    {'a': 20.0, 'b': [2.0, 4.0]}
    """
    return {
        name: share * value if isinstance(value, int | float) else [share * x for x in value]
        for name, value in heat_w.items()
    }


def minutes_to(box: Box, around: Around, heat_w: Heat, limits: Sequence[Limit], hour: int) -> tuple[float, str]:
    """Minutes from the failure of the fan until the first part passes its limit, in one hour that is held.

    Parameters
    ----------
    box : Box
        The cabinet, its fan as driven before.
    around : Around
        Its surroundings.
    heat_w : mapping
        Heat that each gear gives off, by name. [W]
    limits : sequence of Limit
        What each part bears.
    hour : int
        In which the fan fails, mostly the hottest.

    Returns
    -------
    tuple of float and str
        Minutes, infinite where all stay below for good; the part.

    Source
    ------
    docs/methods/heat.md

    Examples
    --------
    >>> from ohmstead.heat.around import still
    >>> from ohmstead.heat.box import Fan, Gear, Opening
    >>> from ohmstead.heat.fan import fan_curve
    >>> fan = Fan("fan", 0.55, "out", fan_curve(0.014, 29.4), 2.5, 0.0064)
    >>> gear = (Gear("a", 0.15, 4000.0), Gear("b", 0.45, 4000.0))
    >>> box = Box(0.6, 0.5, 0.3, fan=fan, openings=(Opening("grille", 0.05, 0.0064, 0.6),), gear=gear)
    >>> minutes, part = minutes_to(box, still(40.0), {"a": 40.0, "b": 40.0}, [Limit("b", 0.45, 55.0)], 0)
    >>> part, 5 < minutes < 60
    ('b', True)
    """
    failed = replace(box, control=FixedSpeed(0.0))
    worst_k, part = excess_k(steady(failed, around, heat_w, hour), limits)
    if worst_k <= 0.0:
        return float("inf"), part
    run = Transient(failed, around, heat_w, hour)
    run.start_as(box)
    time_s = 0.0
    while time_s < LONG_S:
        piece = max(30.0, 0.02 * time_s)
        run.go_s(piece)
        time_s += piece
        for limit in limits:
            if run.air_c(limit.height_m) > limit.hottest_c:
                return time_s / 60.0, limit.part
    return float("inf"), part
