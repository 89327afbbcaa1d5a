"""Clearness of one day after another: a chain of ten states whose odds hang on the mean of the month.

Clearness is the sun of a day on the level over what reaches the top of the air. Dark days come in runs, and
runs empty batteries; that is what the chain keeps.
"""

from bisect import bisect
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.random import Generator

from ..tables.reader import numbers
from .hours import FloatArray, IntArray

N_STATE = 10
MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
LEAST_MEAN, MOST_MEAN = 0.04, 0.82  # monthly means outside are no weather; within the bounds of the published classes


@dataclass(frozen=True, slots=True)
class Chain:
    """One class: ten equal states between least and most, and the odds from each to each."""

    number: int
    least_fraction: float
    most_fraction: float
    odds: FloatArray  # shape (10, 10), rows sum to one
    steps: tuple[tuple[float, ...], ...]  # the same, summed up along each row, without the last

    @property
    def width(self) -> float:
        """How much clearness one state covers, a share of one."""
        return (self.most_fraction - self.least_fraction) / N_STATE


@cache
def chains() -> tuple[Chain, ...]:
    """The ten published classes, rows brought to a sum of one."""
    table = np.array([numbers("clearness_chain", f"to_{state + 1}") for state in range(N_STATE)]).T
    least, most = (numbers("clearness_class", column) for column in ("least_fraction", "most_fraction"))
    made = []
    for number, (low, high) in enumerate(zip(least, most, strict=True)):
        odds = table[number * N_STATE : (number + 1) * N_STATE]
        odds = odds / odds.sum(axis=1, keepdims=True)
        steps = tuple(tuple(row[:-1]) for row in np.cumsum(odds, axis=1).tolist())
        made.append(Chain(number + 1, low, high, odds, steps))
    return tuple(made)


def chain_for(share: float) -> Chain:
    """The class that holds for a month whose mean clearness is this share."""
    return chains()[bisect(numbers("clearness_class", "above_fraction"), share - 1e-12) - 1]


def stationary(chain: Chain) -> FloatArray:
    """How often each state comes up in the long run, shape (10,)."""
    matrix = np.vstack([chain.odds.T - np.eye(N_STATE), np.ones(N_STATE)])
    wanted = np.append(np.zeros(N_STATE), 1.0)
    found: FloatArray = np.linalg.lstsq(matrix, wanted, rcond=None)[0]
    return found


def draw_days(months: FloatArray, n_year: int, dice: Generator) -> FloatArray:
    """Clearness of every day, shape (n_year, 365), for twelve monthly means.

    Each day's state is drawn from the row of the day before; where a month begins, yesterday is looked up among
    the states of the new class. Inside a state the value is drawn evenly. The years follow one another without
    a break. Only states are drawn here, so the mean of a month is that of its class: see `meet_means`.
    """
    of_day = [chain for mean, days in zip(months, MONTH_DAYS, strict=True) for chain in [chain_for(mean)] * days]
    chance = dice.random((2, n_year * 365)).tolist()
    start = of_day[-1]
    often = np.clip(stationary(start), 0.0, None)
    state = int(dice.choice(N_STATE, p=often / often.sum()))
    value = start.least_fraction + start.width * (state + 0.5)
    found: list[float] = []
    before = start
    for day, (turn, inside) in enumerate(zip(*chance, strict=True)):
        chain = of_day[day % 365]
        if chain is not before:
            state = min(max(int((value - chain.least_fraction) / chain.width), 0), N_STATE - 1)
            before = chain
        state = bisect(chain.steps[state], turn)
        value = chain.least_fraction + chain.width * (state + inside)
        found.append(value)
    return np.array(found).reshape(n_year, 365)


def day_months() -> IntArray:
    """Month 0..11 of each day of the year, shape (365,)."""
    return np.repeat(np.arange(12), MONTH_DAYS)


def meet_means(days: FloatArray, months: FloatArray, weights: FloatArray) -> FloatArray:
    """The same days bent so that every month has its mean over all years.

    Each value is taken as a place u between the bounds of its class and moved to u to the power g; one g for
    each month, so days keep their order and their bounds. `weights`, shape (365,), is the sun outside the air:
    the mean that is met is one of energy.
    """
    found = days.copy()
    of_day = day_months()
    for month, mean in enumerate(months):
        chosen = of_day == month
        weight = weights[chosen]
        if weight.sum() <= 0:
            continue
        chain = chain_for(mean)
        low, span = chain.least_fraction, chain.most_fraction - chain.least_fraction
        place = np.clip((days[:, chosen] - low) / span, 1e-9, 1.0)
        share = weight / weight.sum()
        goal = (mean - low) / span
        found[:, chosen] = low + span * place ** _power(place, share, goal)
    return found


def _power(place: FloatArray, share: FloatArray, goal: float) -> float:
    """The g at which the mean of place**g is the goal: Newton on log g, kept between what is too low and too high."""
    logs = np.log(place)
    low, high, at = -6.0, 6.0, 0.0
    for _ in range(30):
        bent = logs * np.exp(at)
        value = np.exp(bent)
        miss = float((value @ share).mean()) - goal
        if abs(miss) < 1e-9:
            break
        low, high = (at, high) if miss > 0 else (low, at)
        slope = float(((value * bent) @ share).mean())
        step = at - miss / slope if slope < 0 else low
        at = step if low < step < high else (low + high) / 2
    return float(np.exp(at))
