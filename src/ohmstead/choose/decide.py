"""Decides every `choose` of a site at once: least metal or least cost, until a full check finds nothing to mend."""

from dataclasses import replace
from time import monotonic

from ..evidence.finding import Finding
from ..evidence.gather import gather
from ..network.operate import Operation, operate, with_settled_air
from ..parts.fuse import Fuse
from ..parts.wire import Wire
from ..plan.lengths import planned
from ..rules.catalogue import run_rules
from ..site.model import Site
from ..site.record import record
from ..wiring.fuse_heat import hot_resistance_ohm
from .assign import Picks, assigned
from .choice import Choice
from .collide import Clash, colliding
from .cuts import BY_SIZE, Cuts
from .ease import eased
from .explain import Reason, reasons
from .finish import Finish, finished, near_misses, untouched
from .local import local_demands, run_some
from .ohms import Ohms
from .options import Decision, decisions
from .pairs import SELECTIVE, Guarding
from .programme import INFEASIBLE, Programme, Solution
from .trial import GRAVE, Trial
from .windows import Windows
from .worth import Stock, Worth

MOST_ROUNDS = 60
LIMIT_S = 60.0  # then the best found so far is reported with its gap
ANSWER_S = 2.5  # what is left of this, or a quarter of the search, is spent on trying the next sizes
EXPLAIN_FRACTION = 0.25
SAME = 1e-6


@record(frozen=True)
class Proposal:
    """All choices, the site with them, and how good they are.

    `gap_fraction` is how much cheaper any other picks could be at most; 0 when the choice is proven best.
    `clashes` is not empty when nothing fits: these demands cannot be met together. `left` holds what a
    full check still finds and no choice could mend, `near` what it calls tight. `unit` names what `cost` counts.
    `unknown` holds what stays open because the file does not say enough.
    """

    site: Site
    choices: tuple[Choice, ...] = ()
    mass_kg: float = 0.0
    cost: float = 0.0
    unit: str = "g of metal"
    gap_fraction: float = 0.0
    clashes: tuple[Clash, ...] = ()
    left: tuple[Finding, ...] = ()
    near: tuple[Finding, ...] = ()
    unknown: tuple[Clash, ...] = ()
    n_check: int = 0
    n_round: int = 0
    finished: str = "yes"  # "no" when rounds or time ran out before the check was clean

    @property
    def verdict(self) -> str:
        """ "fits", "nothing fits" or "unfinished"."""
        return "nothing fits" if self.clashes else "fits" if self.finished == "yes" else "unfinished"


def decide(site: Site, stock: Stock | None = None) -> Proposal:
    """Decide every `choose` in a site; with a price list least cost and own parts first, else least metal."""
    site = replace(with_settled_air(planned(site))[0], plate=None)  # places and air stay while sizes are tried
    listed = tuple(item.text for item in stock.items) if stock else ()
    decided = decisions(site, listed)
    if not decided:
        return completed(Proposal(site, n_check=1), finished(site, untouched(site)))
    search = Search(site, decided, Worth(stock))
    return search.proposal()


class Search:
    """The loop between the programme and the exact engine.

    What fails even with the thickest wires, and not because something is too large, no choice can mend.
    """

    def __init__(self, site: Site, decided: tuple[Decision, ...], worth: Worth) -> None:
        self.site, self.decided, self.worth = site, decided, worth
        self.begun = monotonic()
        self.n_check = self.n_round = 0
        self.floor = 0.0  # no picks can cost less
        self.programme = Programme(decided, worth)
        start = _with_ratings(site, decided, _thickest(decided))
        self.best = self._check(operate(assigned(site, decided, start)))
        self.hopeless = {(f.rule, f.subject) for f in self.best.failing if f.rule not in BY_SIZE}
        ohms = self.ohms = Ohms(site, self.programme)
        local_demands(self.programme, self.best, site)
        Guarding(self.programme, ohms, self.best).demands()
        self.windows = Windows(self.programme, ohms, self.best)
        self.windows.add(self.best.operation)

    def _check(self, operation: Operation) -> Trial:
        self.n_check += 1
        evidence = gather(operation)
        return Trial(operation.site, operation, evidence, tuple(run_rules(evidence)))

    def _left_s(self) -> float:
        return LIMIT_S - (monotonic() - self.begun)

    def proposal(self) -> Proposal:
        """Run to the end."""
        seen: list[Picks] = []
        solution = self.programme.solve()
        self.floor = solution.bound
        trial = self.best
        finished = "no"
        while self.n_round < MOST_ROUNDS and solution.picks and self._left_s() > 0:
            self.n_round += 1
            operation = operate(assigned(self.site, self.decided, solution.picks))
            passed = self.windows.add(operation)
            again = solution.picks in seen
            if not passed or again:
                trial = self._check(operation)
                if not self._cut(trial, solution.picks):
                    finished = "yes"
                    break
            seen.append(solution.picks)
            solution = self.programme.solve(seconds=max(1.0, self._left_s()))
            self.floor = max(self.floor, solution.bound)
        if solution.status == INFEASIBLE:
            clashes = colliding(self.programme, monotonic() + max(10.0, self._left_s()))
            return Proposal(
                self.site,
                clashes=clashes,
                unit=self.worth.unit,
                n_check=self.n_check,
                n_round=self.n_round,
                finished="no",
            )
        return self._finish(solution, trial, finished)

    def _cut(self, trial: Trial, picks: Picks) -> int:
        """Rows for what a full check still finds; how many findings a choice can mend."""
        cuts = Cuts(self.programme, trial, picks)
        guarding = Guarding(self.programme, self.ohms, trial)
        for finding in trial.failing:
            if finding.rule == SELECTIVE:
                for view in trial.evidence.runs:
                    guarding.selective(view, 1.0)
                break
        found = [f for f in trial.failing if (f.rule, f.subject) not in self.hopeless]
        return sum(cuts.add(finding) == "yes" for finding in found)

    def _finish(self, solution: Solution, trial: Trial, ended: str) -> Proposal:
        picks = solution.picks
        if not picks:
            return Proposal(self.site, unit=self.worth.unit, n_check=self.n_check, n_round=self.n_round, finished="no")
        cost = self.programme.cost_of(picks)
        gap = max(0.0, (cost - self.floor) / max(abs(cost), SAME))
        gap = 0.0 if gap < SAME else gap
        spent = monotonic() - self.begun
        until = monotonic() + max(ANSWER_S - spent, EXPLAIN_FRACTION * spent)
        if ended == "yes":
            picks, trial, n_more = eased(self.programme, self.site, picks, trial)
            self.n_check += n_more
        why = reasons(self.programme, trial, self.site, picks, until) if ended == "yes" else {}
        choices = tuple(
            Choice(d.subject, d.attribute, d.options[picks[d.key]].text, d.place, why.get(d.key, Reason()))
            for d in self.decided
        )
        found = Proposal(
            trial.site,
            choices,
            self.programme.mass_kg(picks),
            cost,
            self.worth.unit,
            gap,
            n_check=self.n_check,
            n_round=self.n_round,
            finished=ended,
        )
        return completed(found, finished(self.site, trial))


def completed(proposal: Proposal, finish: Finish) -> Proposal:
    """A proposal with ends and blocks chosen too."""
    choices = () if finish.clashes else (*proposal.choices, *finish.choices)
    return replace(
        proposal,
        site=finish.trial.site,
        choices=choices,
        clashes=finish.clashes,
        left=finish.trial.failing,
        near=near_misses(finish.trial),
        unknown=finish.unknown,
    )


def _thickest(decided: tuple[Decision, ...]) -> dict[tuple[str, str], int]:
    """Picks with the least resistance and the largest ratings: nothing can give a device more voltage."""
    picks = {}
    for decision in decided:
        things = [option.thing for option in decision.options]
        if decision.attribute == "wire":
            ohms = [thing.resistance_20_ohm_per_km for thing in things if isinstance(thing, Wire)]
            picks[decision.key] = min(range(len(ohms)), key=ohms.__getitem__)
        elif decision.attribute == "fuse":
            ohms = [hot_resistance_ohm(thing) for thing in things if isinstance(thing, Fuse)]
            picks[decision.key] = min(range(len(ohms)), key=ohms.__getitem__)
        else:
            picks[decision.key] = len(things) - 1
    return picks


def _with_ratings(
    site: Site, decided: tuple[Decision, ...], picks: dict[tuple[str, str], int]
) -> dict[tuple[str, str], int]:
    """The smallest rating that holds what is asked: a larger one only pushes more into a short."""
    ratings = [decision for decision in decided if decision.attribute == "rating"]
    if not ratings:
        return picks
    evidence = gather(operate(assigned(site, decided, picks)))
    for decision in ratings:
        view = next((view for view in evidence.converters if view.name == decision.subject), None)
        if view is None:
            continue
        for index, option in enumerate(decision.options):
            assert isinstance(option.thing, float)
            part = replace(view.converter, rating_w=option.thing)
            share = (view.derated_w or 0.0) / (view.converter.rating_w or 1.0)
            changed = replace(view, converter=part, derated_w=(part.rating_w or 0.0) * share)
            found = run_some(
                ("converter-overloaded", "converter-overloaded-when-hot"), replace(evidence, converters=(changed,))
            )
            if not any(finding.severity in GRAVE for finding in found):
                picks[decision.key] = index
                break
    return picks
