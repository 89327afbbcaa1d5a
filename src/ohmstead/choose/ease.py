"""Of picks that cost the same, those with fewer near misses."""

from collections.abc import Iterator

from ..site.model import Site
from .assign import Picks, assigned
from .finish import near_misses
from .options import Decision
from .programme import CENT, Programme
from .trial import Trial, full_check

MOST_CHECKS = 12  # full checks spent on it, so that the outcome never hangs on the clock
LARGE = 20  # decisions; in a larger site, where a check takes long, fewer are spent
FEW_CHECKS = 3


def eased(programme: Programme, site: Site, picks: Picks, trial: Trial) -> tuple[Picks, Trial, int]:
    """Change one fuse or rating at a time where that costs nothing and a full check finds less.

    Returns the picks, their trial and how many checks were made.
    """
    left = MOST_CHECKS if len(programme.decided) <= LARGE else FEW_CHECKS
    n_check = 0
    failing = {(f.rule, f.subject) for f in trial.failing}
    tried: set[tuple[tuple[str, str], int]] = set()
    better = True
    while better and n_check < left:
        better = False
        for decision, index in _alternatives(programme, picks, trial):
            if (decision.key, index) in tried or n_check >= left:
                continue
            tried.add((decision.key, index))
            other = {**picks, decision.key: index}
            found = full_check(assigned(site, programme.decided, other))
            n_check += 1
            grave = {(f.rule, f.subject) for f in found.failing}
            if grave <= failing and len(near_misses(found)) < len(near_misses(trial)):
                picks, trial, better = other, found, True
                break
    return picks, trial, n_check


def _alternatives(programme: Programme, picks: Picks, trial: Trial) -> Iterator[tuple[Decision, int]]:
    """Options of the same cost and metal in the places that near misses name, nearest in the list first."""
    cost = programme.cost_of(picks)
    for finding in near_misses(trial):
        for decision in programme.decided:
            if decision.attribute == "wire" or decision.subject != finding.subject:
                continue
            now = picks[decision.key]
            for index in sorted(range(len(decision.options)), key=lambda i: abs(i - now)):
                column = programme.column(decision, index)
                out = index == now or column in programme.refused or column in programme.dropped
                if not out and programme.cost_of({**picks, decision.key: index}) <= cost + CENT:
                    yield decision, index
