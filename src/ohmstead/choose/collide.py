"""Which demands cannot be met together: a set from which none can be left out."""

from time import monotonic

from ..site.record import record
from .programme import FEASIBLE, INFEASIBLE, Programme

Key = tuple[str, str]


@record(frozen=True)
class Clash:
    """One demand of a set that cannot be met together: the rule behind it, its subject, and it in words."""

    rule: str
    subject: str
    words: str


def colliding(programme: Programme, until: float) -> tuple[Clash, ...]:
    """An irreducible set of demands that no picks meet; larger than need be only when time runs out."""
    keys = list(programme.demands)
    found = _conflict(programme, [], [], keys, until) if keys else []
    return tuple(Clash(rule, subject, programme.demands[(rule, subject)].words) for rule, subject in found)


def _conflict(programme: Programme, kept: list[Key], added: list[Key], open_keys: list[Key], until: float) -> list[Key]:
    """Divide and conquer: halves that already clash with what is kept need no closer look."""
    if added and _clashes(programme, kept):
        return []
    if len(open_keys) == 1 or monotonic() > until:
        return open_keys
    middle = len(open_keys) // 2
    left, right = open_keys[:middle], open_keys[middle:]
    of_right = _conflict(programme, kept + left, left, right, until)
    of_left = _conflict(programme, kept + of_right, of_right, left, until)
    return of_left + of_right


def _clashes(programme: Programme, keys: list[Key]) -> bool:
    return programme.solve(keep=keys).status == INFEASIBLE


def met(programme: Programme, keys: list[Key]) -> str:
    """ "yes" when some picks meet these demands."""
    return "yes" if programme.solve(keep=keys).status == FEASIBLE else "no"
