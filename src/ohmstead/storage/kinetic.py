"""The two wells of a lead battery: charge at hand, and bound charge that seeps after it."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp, expm1, inf


@dataclass(frozen=True, slots=True)
class TwoWells:
    """What sets one battery apart from another.

    available_fraction: share c of the charge that the first well holds. exchange_per_h: rate k at which the levels of
    the wells come together. most_ah: what both hold when full, the charge had at a very small current.
    """

    available_fraction: float
    exchange_per_h: float
    most_ah: float


@dataclass(frozen=True, slots=True)
class Standing:
    """Charge in the well at hand and in the bound one."""

    available_ah: float
    bound_ah: float


def full(wells: TwoWells) -> Standing:
    """Both wells full, at one level.

    Parameters
    ----------
    wells : TwoWells
        The battery.

    Returns
    -------
    Standing
        The charge in each. [Ah]

    Source
    ------
    manwell-mcgowan-1993, from memory.

    Examples
    --------
    >>> full(TwoWells(0.25, 1.0, 100.0))
    Standing(available_ah=25.0, bound_ah=75.0)
    """
    first = wells.available_fraction * wells.most_ah
    return Standing(first, wells.most_ah - first)


def hour_shares(available_fraction: float, exchange_per_h: float, step_h: float = 1.0) -> tuple[float, float, float]:
    """What a step under a steady current makes of the first well, as three shares.

    available after = r · available + a · (available + bound) - d · I · step

    Parameters
    ----------
    available_fraction : float
        Share c of the first well. [1]
    exchange_per_h : float
        Rate k. [1/h]
    step_h : float
        Length of the step. [h]

    Returns
    -------
    tuple[float, float, float]
        r, a and d; (0, 1, 1) for a battery with one well. [1]

    Source
    ------
    manwell-mcgowan-1993, from memory; exact solution of its two equations for a steady current.

    Examples
    --------
    >>> hour_shares(1.0, 0.0)
    (0.0, 1.0, 1.0)
    >>> [round(share, 4) for share in hour_shares(0.3, 1.0)]
    [0.3679, 0.1896, 0.7425]
    """
    if available_fraction >= 1.0:
        return 0.0, 1.0, 1.0
    turn = exchange_per_h * step_h
    stays, gone = exp(-turn), -expm1(-turn)
    drawn = gone / turn if turn > 1e-9 else 1.0
    return stays, available_fraction * gone, drawn + available_fraction * (1.0 - drawn)


def after(wells: TwoWells, before: Standing, current_a: float, step_h: float) -> Standing:
    """The wells after a steady current; a negative one charges.

    Parameters
    ----------
    wells : TwoWells
        The battery.
    before : Standing
        The wells at the begin of the step.
    current_a : float
        Drawn from the battery; it is not held back, see `most_discharge_a` and `most_charge_a`. [A]
    step_h : float
        How long. [h]

    Returns
    -------
    Standing
        The wells at its end. [Ah]

    Source
    ------
    manwell-mcgowan-1993, from memory.

    Examples
    --------
    >>> end = after(TwoWells(0.3, 1.0, 100.0), Standing(30.0, 70.0), 20.0, 1.0)
    >>> round(end.available_ah, 3), round(end.bound_ah, 3)
    (15.15, 64.85)
    """
    stays, shared, drawn = hour_shares(wells.available_fraction, wells.exchange_per_h, step_h)
    whole = before.available_ah + before.bound_ah
    first = stays * before.available_ah + shared * whole - drawn * current_a * step_h
    return Standing(first, whole - current_a * step_h - first)


def most_discharge_a(wells: TwoWells, before: Standing, step_h: float) -> float:
    """Steady current that empties the first well exactly at the end of a step.

    Parameters
    ----------
    wells : TwoWells
        The battery.
    before : Standing
        The wells at the begin of the step.
    step_h : float
        How long. [h]

    Returns
    -------
    float
        The current. [A]

    Source
    ------
    manwell-mcgowan-1993, from memory.

    Examples
    --------
    >>> wells = TwoWells(0.3, 1.0, 100.0)
    >>> most = most_discharge_a(wells, full(wells), 1.0)
    >>> round(most, 2), abs(round(after(wells, full(wells), most, 1.0).available_ah, 9))
    (40.4, 0.0)
    """
    stays, shared, drawn = hour_shares(wells.available_fraction, wells.exchange_per_h, step_h)
    free = stays * before.available_ah + shared * (before.available_ah + before.bound_ah)
    return max(0.0, free / (drawn * step_h))


def most_charge_a(wells: TwoWells, before: Standing, step_h: float) -> float:
    """Steady current that fills the first well exactly at the end of a step.

    Parameters
    ----------
    wells : TwoWells
        The battery.
    before : Standing
        The wells at the begin of the step.
    step_h : float
        How long. [h]

    Returns
    -------
    float
        The current, positive into the battery. [A]

    Source
    ------
    manwell-mcgowan-1993, from memory.

    Examples
    --------
    >>> wells = TwoWells(0.3, 1.0, 100.0)
    >>> most = most_charge_a(wells, Standing(0.0, 0.0), 1.0)
    >>> round(most, 2), round(after(wells, Standing(0.0, 0.0), -most, 1.0).available_ah, 9)
    (40.4, 30.0)
    """
    stays, shared, drawn = hour_shares(wells.available_fraction, wells.exchange_per_h, step_h)
    free = stays * before.available_ah + shared * (before.available_ah + before.bound_ah)
    return max(0.0, (wells.available_fraction * wells.most_ah - free) / (drawn * step_h))


def lasts_h(wells: TwoWells, before: Standing, current_a: float) -> float:
    """Time until the first well is empty under a steady current.

    Parameters
    ----------
    wells : TwoWells
        The battery.
    before : Standing
        The wells at the begin.
    current_a : float
        Drawn from the battery. [A]

    Returns
    -------
    float
        Endless for no current. [h]

    Source
    ------
    manwell-mcgowan-1993, from memory.

    Examples
    --------
    >>> wells = TwoWells(0.3, 1.0, 100.0)
    >>> round(lasts_h(wells, full(wells), 40.4), 2)
    1.0
    """
    if current_a <= 0.0:
        return inf
    low, high = 0.0, (before.available_ah + before.bound_ah) / current_a
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if after(wells, before, current_a, middle).available_ah > 0.0 else (low, middle)
    return high


def capacity_ah(wells: TwoWells, run_h: float) -> float:
    """Charge that a full battery gives when a steady current empties it in a given time.

    Q = Qmax / (1 + (1 - c) / c · (1 - exp(-k t)) / (k t))

    Parameters
    ----------
    wells : TwoWells
        The battery.
    run_h : float
        The time. [h]

    Returns
    -------
    float
        Current times time. [Ah]

    Source
    ------
    manwell-mcgowan-1993, from memory.

    Examples
    --------
    >>> [round(capacity_ah(TwoWells(0.3, 1.0, 100.0), t), 1) for t in (1.0, 10.0, 100.0)]
    [40.4, 81.1, 97.7]
    """
    c = wells.available_fraction
    return wells.most_ah / (1.0 + (1.0 - c) / c * _level(wells.exchange_per_h * run_h))


def fit(capacities: Mapping[float, float]) -> TwoWells:
    """The wells of a battery from its capacities at three rates, met exactly.

    1 / Q is a straight line over (1 - exp(-k t)) / (k t), whose slope and foot give c and Qmax; k is the rate for
    which the third point lies on it.

    Parameters
    ----------
    capacities : Mapping[float, float]
        Time to empty [h] to charge given in it [Ah], three of them.

    Returns
    -------
    TwoWells
        The battery. Raises ValueError when no two wells behave so.

    Source
    ------
    manwell-mcgowan-1993 for the model, the straight line is worked out by us.

    Examples
    --------
    >>> wells = fit({1.0: 40.4, 10.0: 81.1, 100.0: 97.7})
    >>> round(wells.available_fraction, 2), round(wells.exchange_per_h, 2), round(wells.most_ah)
    (0.3, 1.0, 100)
    """
    if len(capacities) != 3 or min(capacities) <= 0.0 or min(capacities.values()) <= 0.0:
        raise ValueError("three times above zero with a charge each are needed")
    hours = sorted(capacities)
    lines = [1.0 / capacities[hour] for hour in hours]
    if not lines[0] > lines[1] > lines[2]:
        raise ValueError("a slower discharge must give more charge")
    asked = (lines[0] - lines[1]) / (lines[1] - lines[2])

    def bend(exchange: float) -> float:
        levels = [_level(exchange * hour) for hour in hours]
        return (levels[0] - levels[1]) / (levels[1] - levels[2])

    low, high = 1e-6 / hours[2], 1e3 / hours[0]
    if not bend(low) < asked < bend(high):
        raise ValueError("no two wells give such capacities")
    for _ in range(200):
        middle = (low * high) ** 0.5
        low, high = (middle, high) if bend(middle) < asked else (low, middle)
    levels = [_level(high * hour) for hour in hours]
    slope = (lines[0] - lines[2]) / (levels[0] - levels[2])
    foot = lines[2] - slope * levels[2]
    if foot <= 0.0:
        raise ValueError("no two wells give such capacities")
    return TwoWells(foot / (foot + slope), high, 1.0 / foot)


def _level(turn: float) -> float:
    """(1 - exp(-x)) / x, 1 at nought."""
    return -expm1(-turn) / turn if turn > 1e-9 else 1.0
