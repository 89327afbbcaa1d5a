"""How many years are enough: the decision is as sure as asked, however often it is looked at."""

import numpy as np
import pytest

from ohmstead.season.enough import FIRST_YEARS, LOOKS, look_at, look_confidence, reckon_enough
from ohmstead.season.sure import mean_least, mean_most, wilson
from ohmstead.season.trouble import SeasonError
from ohmstead.site.read import read_text
from ohmstead.site.sky import Goal
from season.test_backup import SITE


def verdict(dice: np.random.Generator, draw: "object", goal: Goal) -> tuple[str, int]:
    """Look at more and more years until it ends."""
    for number in range(LOOKS):
        look = look_at(list(draw(dice, FIRST_YEARS * 2**number)), goal)  # type: ignore[operator]
        if look.ends == "yes":
            return look.verdict, look.n_year
    return look.verdict, look.n_year


@pytest.mark.parametrize("true", [0.0101, 0.0099])
def test_a_wrong_verdict_is_as_rare_as_asked(true: float) -> None:
    """Years of exponentially spread lack whose true mean lies just beside the goal: the wrong side in 10 % at most.

    400 goes; three standard errors of a binomial share are added.
    """
    goal, dice = Goal(unserved_fraction=0.01, confidence_fraction=0.9), np.random.default_rng(4)
    wrong = "met" if true > 0.01 else "missed"
    found = [verdict(dice, lambda dice, n: dice.exponential(true, n), goal)[0] for _ in range(400)]
    assert found.count(wrong) / 400 < 0.1 + 3 * np.sqrt(0.1 * 0.9 / 400)


def test_clear_cases_end_early_and_close_ones_take_more_years() -> None:
    goal, dice = Goal(unserved_fraction=0.01, confidence_fraction=0.9), np.random.default_rng(2)
    clear = [verdict(dice, lambda dice, n: dice.exponential(0.1, n), goal) for _ in range(50)]
    close = [verdict(dice, lambda dice, n: dice.exponential(0.009, n), goal) for _ in range(50)]
    assert {word for word, _ in clear} == {"missed"}
    assert np.mean([n for _, n in clear]) < np.mean([n for _, n in close])


def test_intervals_of_shares_against_scipy(outside) -> None:  # type: ignore[no-untyped-def]
    from scipy.stats import binomtest, t

    worst = 0.0
    for hit, of in ((0, 20), (3, 20), (17, 40), (80, 80), (5, 160), (160, 320)):
        theirs = binomtest(hit, of).proportion_ci(look_confidence(0.9), method="wilson")
        ours = wilson(hit, of, look_confidence(0.9))
        worst = max(worst, abs(ours[0] - theirs.low), abs(ours[1] - theirs.high))
    outside(
        source="scipy", place="binomtest, Wilson", read="program", what="interval of a share of years", deviation=worst
    )
    assert worst < 1e-12
    years = list(np.random.default_rng(1).exponential(0.02, 40))
    low, high = t.interval(0.8, 39, np.mean(years), np.std(years, ddof=1) / np.sqrt(40))
    assert (mean_least(years, 0.9), mean_most(years, 0.9)) == pytest.approx((low, high), rel=1e-4)


def test_years_are_drawn_until_it_is_sure() -> None:
    found = reckon_enough(read_text(SITE))
    assert [look.n_year for look in found.looks] == [20 * 2**i for i in range(len(found.looks))]
    assert found.looks[-1].ends == "yes"
    assert found.ledger.hours.n_year == found.looks[-1].n_year
    assert found.looks[-1].good_most_fraction - found.looks[-1].good_least_fraction <= 0.2


def test_years_of_a_file_are_as_many_as_they_are() -> None:
    text = "\n".join(line for line in SITE.splitlines() if "monthly sun" not in line and "years: 2" not in line)
    with pytest.raises(SeasonError, match="not drawn"):
        reckon_enough(read_text(text.replace("  monthly air", "  clear sky: yes\n  monthly air")))
