"""A box as one lump: closed forms for warming up, the daily swing, and a fan that is switched."""

from math import atan, exp, log, pi, sqrt


def warmed_k(heat_w: float, wall_w_per_k: float, capacity_j_per_k: float, time_s: float) -> float:
    """Rise after a time under constant heat, from cold.

    ΔT = P / UA · (1 - exp(-t · UA / C))

    Parameters
    ----------
    heat_w : float
        Given off. [W]
    wall_w_per_k : float
        Of the walls, with what air carries off. [W/K]
    capacity_j_per_k : float
        Of walls and gear. [J/K]
    time_s : float
        Since it began. [s]

    Returns
    -------
    float
        Rise. [K]

    Source
    ------
    incropera, lumped capacitance.

    Examples
    --------
    >>> [round(warmed_k(35.0, 3.125, 14250.0, 3600.0 * hours), 1) for hours in (1, 2, 5)]
    [6.1, 8.9, 11.0]
    """
    return heat_w / wall_w_per_k * (1.0 - exp(-time_s * wall_w_per_k / capacity_j_per_k))


def until_s(heat_w: float, wall_w_per_k: float, capacity_j_per_k: float, rises_k: tuple[float, float]) -> float:
    """Time from one rise to another under constant heat; infinite where it never gets there.

    Parameters
    ----------
    heat_w : float
        Given off. [W]
    wall_w_per_k : float
        Of the walls, with what air carries off. [W/K]
    capacity_j_per_k : float
        Of walls and gear. [J/K]
    rises_k : tuple of float
        From and to, over the air around. [K]

    Returns
    -------
    float
        Time. [s]

    Source
    ------
    incropera, lumped capacitance.

    Examples
    --------
    >>> round(until_s(35.0, 3.125, 14250.0, (6.0, 10.0)))
    6686
    """
    end = heat_w / wall_w_per_k
    begin, goal = end - rises_k[0], end - rises_k[1]
    if begin == goal:
        return 0.0
    if begin * goal <= 0.0 or abs(goal) > abs(begin):
        return float("inf")
    return capacity_j_per_k / wall_w_per_k * log(begin / goal)


def swing_of_day(wall_w_per_k: float, capacity_j_per_k: float) -> tuple[float, float]:
    """What a box makes of a daily wave of the air around: share of its swing, and hours that it lags.

    Parameters
    ----------
    wall_w_per_k : float
        Of the walls. [W/K]
    capacity_j_per_k : float
        Of walls and gear. [J/K]

    Returns
    -------
    tuple of float
        Share, hours.

    Source
    ------
    incropera; a first-order lag under a sine.

    Examples
    --------
    >>> share, lag = swing_of_day(3.125, 14250.0)
    >>> round(share, 3), round(lag, 2)
    (0.949, 1.22)
    """
    turn = 2.0 * pi / 86400.0
    lag = turn * capacity_j_per_k / wall_w_per_k
    return 1.0 / sqrt(1.0 + lag**2), atan(lag) / turn / 3600.0


def cycle_s(
    heat_w: float, walls_w_per_k: tuple[float, float], capacity_j_per_k: float, band_k: tuple[float, float]
) -> tuple[float, float]:
    """How long a switched fan stands and how long it runs; infinite where it never starts, or never stops.

    Parameters
    ----------
    heat_w : float
        Given off. [W]
    walls_w_per_k : tuple of float
        With the fan standing, and running. [W/K]
    capacity_j_per_k : float
        Of what swings. [J/K]
    band_k : tuple of float
        Rises at which it stops and starts. [K]

    Returns
    -------
    tuple of float
        Standing, running. [s]

    Source
    ------
    incropera, lumped capacitance.

    Examples
    --------
    >>> [round(part) for part in cycle_s(35.0, (3.125, 9.125), 14250.0, (6.0, 10.0))]
    [6686, 1634]
    """
    low, high = band_k
    stands = until_s(heat_w, walls_w_per_k[0], capacity_j_per_k, (low, high))
    return stands, until_s(heat_w, walls_w_per_k[1], capacity_j_per_k, (high, low))
