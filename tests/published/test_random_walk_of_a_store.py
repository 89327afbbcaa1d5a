"""How often a store runs out that gains or loses one step a day, by chance: the closed form against the recursion.

A store of N steps gains one with probability p, else loses one; what finds it full is spilled, what finds it empty is
unserved. Its states form a chain with probabilities in proportion to r^i, r = p / (1 - p), so that the share of days
unserved is (1 - p)(1 - r) / (1 - r^(N + 1)). Bucciarelli (Solar Energy 32, 1984) took this walk for the loss of power
of a supply fed by the sun; the formula is derived anew here, not read there.
"""

import numpy as np
import pytest

from ohmstead.season.kernel import N_GRID, Drive, Rules
from ohmstead.season.lanes import UNSERVED_WH, Designs, sweep

N_STEP = 228 * 8760  # as hours of 228 years; each hour is a day of the walk
PLAIN = Rules(1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 1e9, 0.0)


def exact(n: int, p: float) -> float:
    """Share of days unserved."""
    ratio = p / (1.0 - p)
    return (1.0 - p) * (1.0 - ratio) / (1.0 - ratio ** (n + 1))


@pytest.mark.parametrize(("p", "sizes", "printed"), [(0.6, (5, 10), (0.01924812, 0.00233925)), (0.55, (5, 10, 20), ()),
                                                     (0.5001, (10,), (0.0453546,))])  # fmt: skip
def test_the_recursion_lands_on_the_closed_form(p, sizes, printed, outside):  # type: ignore[no-untyped-def]
    """No losses, all batteries side by side in one sweep; four standard errors of the walk itself are allowed."""
    dice = np.random.default_rng(11)
    gains = dice.random(N_STEP) < p
    load = np.ones((3, N_STEP))
    drive = Drive(np.where(gains, 2.0, 0.0), load, np.zeros(N_STEP), np.zeros(N_STEP), np.full(N_STEP, 1e9),
                  np.ones(N_GRID))  # fmt: skip
    n = len(sizes)
    alike = np.ones(n)
    found = sweep(drive, PLAIN, Designs(alike, np.array(sizes, dtype=float), 1e9 * alike, 0 * alike, 0 * alike))
    for place, size in enumerate(sizes):
        share = found.sums[UNSERVED_WH, place] / N_STEP
        by_year = found.by_year_wh[:, place] / 8760
        error = by_year.std(ddof=1) / np.sqrt(by_year.size)
        wanted = exact(size, p)
        if printed:
            assert wanted == pytest.approx(printed[place], rel=1e-5)
        outside(source="bucciarelli-1984", place=f"{size} steps, gain with {p:g}", read="computed",
                what="share of days unserved of a store in a random walk", deviation=share / wanted - 1)  # fmt: skip
        assert abs(share - wanted) < 4 * error
        assert error < 0.08 * wanted
