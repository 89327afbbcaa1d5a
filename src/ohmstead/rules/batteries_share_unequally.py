"""Batteries in parallel that share the load unequally: the nearest one works hardest and dies first."""

from collections.abc import Iterator, Mapping

from ..evidence.banks import Bank, banks
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import BatteryView, Evidence
from .unlike_batteries_in_parallel import kinds

RULE = Rule("batteries-share-unequally", Source("battery-textbook", "currents through a ladder of resistances"))
# Over its fair share by this much: more than batteries of one batch differ; half as much again. Common practice.
TIGHT_FRACTION, FAILS_FRACTION = 0.1, 0.5
ALIKE_FRACTION = 0.1  # resistances of batteries of one kind and age; common practice, no source
WORDS = Words("{subject}: {value} of the load, where {limit} would be fair ({shares}){current}", "{cure}")
LINKS = (
    "take positive from one end of the row and negative from the other, or join each battery by wires of equal "
    "length and size to a busbar"
)
UNLIKE = "put only batteries of one kind, size and age side by side: no wiring evens out that these differ"


def check(evidence: Evidence) -> Iterator[Finding]:
    for bank in banks(evidence):
        shares, fair = shares_of(bank), fair_shares(bank)
        if not shares or len(kinds(bank)) > 1:
            continue  # batteries of unlike voltage are told as unlike-batteries-in-parallel
        hardest = max(bank.batteries, key=lambda view: shares[view.name] / fair[view.name])
        over = shares[hardest.name] / fair[hardest.name] - 1
        if over <= TIGHT_FRACTION:
            continue
        limit_a = hardest.battery.limits.discharge_a
        past = limit_a is not None and hardest.discharge.value > limit_a
        yield RULE.find(
            Severity.FAILS if past or over > FAILS_FRACTION else Severity.TIGHT,
            Subject(hardest.name, hardest.place, hardest.discharge.case),
            WORDS,
            Measure(shares[hardest.name], fair[hardest.name], "share"),
            {f"share of {name}": Number(share, "share") for name, share in shares.items()},
            {
                "shares": ", ".join(f"{name} {Number(round(share, 2), 'share')}" for name, share in shares.items()),
                "current": _current(hardest),
                "cure": LINKS if _alike(bank) else UNLIKE,
            },
        )


def shares_of(bank: Bank) -> Mapping[str, float]:
    """Share of the bank's current by battery, in the busiest case; nothing for a single battery."""
    given = {view.name: view.shares.get(view.name, 0.0) for view in bank.batteries}
    total = sum(given.values())
    if len(given) < 2 or total <= 0:
        return {}
    return {name: share / total for name, share in given.items()}


def fair_shares(bank: Bank) -> Mapping[str, float]:
    """What each battery should give: its share of the capacity."""
    total_ah = sum(view.battery.capacity_ah for view in bank.batteries)
    return {view.name: view.battery.capacity_ah / total_ah for view in bank.batteries}


def shared_badly(bank: Bank, view: BatteryView, total_a: float, limit_a: float) -> str:
    """ "yes" when a battery passes a limit that its fair share of the bank's current would keep, else "no"."""
    shares, fair = shares_of(bank), fair_shares(bank)
    over = max((shares[name] / fair[name] - 1 for name in shares), default=0.0)
    return "yes" if over > TIGHT_FRACTION and total_a * fair[view.name] <= limit_a else "no"


def _alike(bank: Bank) -> bool:
    """True when the batteries resist alike for their size, so that only the links can be to blame."""
    ohm_ah = [view.resistance_high_ohm * view.battery.capacity_ah for view in bank.batteries]
    return max(ohm_ah) <= min(ohm_ah) * (1 + ALIKE_FRACTION)


def _current(view: BatteryView) -> str:
    limit_a = view.battery.limits.discharge_a
    allowed = "" if limit_a is None else f", where {Number(limit_a, 'current')} are allowed"
    return f"; that is up to {Number(view.discharge.value, 'current')}{allowed}"
