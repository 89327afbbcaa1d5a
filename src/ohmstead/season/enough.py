"""How many years to draw: more of them until the answer is as sure as asked."""

from dataclasses import dataclass

from ..site.model import Site
from ..site.sky import Goal
from .ledger import Ledger
from .reckon import reckon, with_years
from .spread import by_year
from .sure import mean_least, mean_most, wilson
from .trouble import refuse

FIRST_YEARS, LOOKS = 20, 4  # twice as many years at each look: 20, 40, 80, 160
WIDEST = 0.2  # of the interval of the share of years that keep the goal


@dataclass(frozen=True, slots=True)
class Look:
    """What so many years say: the mean of what is unserved and the share of years that keep the goal, each between its
    least and its most with the sureness of one look.
    """

    n_year: int
    mean_fraction: float
    least_fraction: float
    most_fraction: float
    good_fraction: float
    good_least_fraction: float
    good_most_fraction: float
    verdict: str  # "met", "missed", or "open"
    ends: str  # "yes" when no more years are needed


@dataclass(frozen=True, slots=True)
class Enough:
    """The ledger of the last look, and all looks."""

    ledger: Ledger
    looks: tuple[Look, ...]
    look_confidence_fraction: float


def look_confidence(confidence_fraction: float) -> float:
    """How sure a single look must be, so that all looks together are as sure as asked: Bonferroni's inequality.

    Parameters
    ----------
    confidence_fraction : float
        Asked of the answer. [1]

    Returns
    -------
    float
        Asked of each look: 1 - (1 - confidence) / looks. [1]

    Source
    ------
    Bonferroni's inequality, textbooks on statistics.

    Examples
    --------
    >>> round(look_confidence(0.9), 3)
    0.975
    """
    return 1.0 - (1.0 - confidence_fraction) / LOOKS


def look_at(shares: list[float], goal: Goal) -> Look:
    """What the unserved shares of some years say of a goal."""
    sure = look_confidence(goal.confidence_fraction)
    mean = sum(shares) / len(shares)
    least, most = mean_least(shares, sure), mean_most(shares, sure)
    n_good = sum(1 for share in shares if share <= goal.unserved_fraction)
    good_least, good_most = wilson(n_good, len(shares), sure)
    verdict = "met" if most <= goal.unserved_fraction else "missed" if least > goal.unserved_fraction else "open"
    ends = "yes" if verdict != "open" and good_most - good_least <= WIDEST else "no"
    return Look(len(shares), mean, least, most, n_good / len(shares), good_least, good_most, verdict, ends)


def reckon_enough(site: Site) -> Enough:
    """Draw years until the verdict on the goal is as sure as asked, and the share of good years known to a fifth.

    Raises SeasonError when the years come from a file, whose number is what it is.
    """
    if site.weather is not None and (site.weather.file or site.weather.clear_sky == "yes"):
        refuse(
            site,
            "the years of this site are not drawn: there are as many as there are",
            "monthly means in section weather",
            "leave the number of years out",
        )
    goal = site.goal or Goal()
    looks: list[Look] = []
    for number in range(LOOKS):
        ledger = reckon(with_years(site, FIRST_YEARS * 2**number))
        looks.append(look_at([float(share) for share in by_year(ledger)["unserved"][1]], goal))
        if looks[-1].ends == "yes":
            break
    return Enough(ledger, tuple(looks), look_confidence(goal.confidence_fraction))
