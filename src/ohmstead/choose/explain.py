"""What decided a choice: the next size is put in its place, and what then breaks is told."""

from collections.abc import Iterable, Iterator
from time import monotonic

from ..evidence.chain import Chain, chain_of
from ..evidence.finding import Finding
from ..parts.fuse import Fuse
from ..site.model import Site
from ..site.record import record
from .assign import Picks, assigned
from .options import Decision
from .programme import Programme, Row
from .trial import Trial, full_check

TOLERANCE = 1e-9
Key = tuple[str, str]


@record(frozen=True)
class Reason:
    """Why a choice is as it is.

    `next_text` is the next size down, "" when there is none; `rule` and `message` what it would break.
    how: "tried" (a full check with it), "reckoned" (a limit of the programme), "smallest" (nothing smaller is
    offered), "fits" (an end by what it meets),
    "preferred" (the next one would hold as well), "" (not looked at).
    """

    next_text: str = ""
    rule: str = ""
    message: str = ""
    how: str = ""


def reasons(programme: Programme, trial: Trial, site: Site, picks: Picks, until: float) -> dict[Key, Reason]:
    """A reason for every choice: from the programme's rows, then by full checks while time lasts."""
    found: dict[Key, Reason] = {}
    steps: dict[Key, int] = {}
    for decision in programme.decided:
        down = _next_down(decision, picks[decision.key])
        if down is None:
            found[decision.key] = Reason(how="smallest")
            continue
        steps[decision.key] = down
        found[decision.key] = _reckoned(programme, decision, picks, down)
    known = {(f.rule, f.subject) for f in trial.failing}
    chain = chain_of(trial.operation.circuit)
    for batch in [*_batches(programme, chain, steps), *([key] for key in steps)]:
        todo = [key for key in batch if found[key].how != "tried"]
        if not todo or monotonic() > until:
            continue
        tried = full_check(assigned(site, programme.decided, {**picks, **{key: steps[key] for key in todo}}))
        new = [f for f in tried.failing if (f.rule, f.subject) not in known]
        for key in todo:
            finding = _of(programme.by_key[key], new, chain, len(todo))
            text = programme.by_key[key].options[steps[key]].text
            if finding is not None:
                found[key] = Reason(text, finding.rule, finding.message, "tried")
            elif len(todo) == 1:
                found[key] = Reason(text, how="preferred")
    return found


def _next_down(decision: Decision, now: int) -> int | None:
    """The next thinner wire, the next smaller fuse of the kind, the next smaller rating."""
    here = decision.options[now].thing
    if isinstance(here, Fuse):
        smaller = [
            (o.thing.rating_a, i)
            for i, o in enumerate(decision.options)
            if isinstance(o.thing, Fuse)
            and o.thing.family.name == here.family.name
            and o.thing.rating_a < here.rating_a
        ]
        return max(smaller)[1] if smaller else None
    thinner = [i for i in range(now) if _size(decision, i) < _size(decision, now)]
    return max(thinner) if thinner else None


def _size(decision: Decision, index: int) -> float:
    thing = decision.options[index].thing
    return thing if isinstance(thing, float) else getattr(thing, "area_mm2", 0.0)


def _reckoned(programme: Programme, decision: Decision, picks: Picks, down: int) -> Reason:
    """The first demand whose rows the next size would break."""
    column, now = programme.column(decision, down), programme.column(decision, picks[decision.key])
    picked = {programme.column(d, picks[d.key]) for d in programme.decided}
    text = decision.options[down].text
    for (rule, _), demand in programme.demands.items():
        for row in demand.rows:
            touched = column in row.terms or now in row.terms
            if touched and not _kept(row, (picked - {now}) | {column}) and _kept(row, picked):
                return Reason(text, rule, programme.notes.get((rule, column), demand.words), "reckoned")
    return Reason(text, how="preferred")


def _kept(row: Row, picked: set[int]) -> bool:
    value = sum(term for column, term in row.terms.items() if column in picked)
    return row.low - TOLERANCE <= value <= row.high + TOLERANCE


def _batches(programme: Programme, chain: Chain, steps: Iterable[Key]) -> Iterator[list[Key]]:
    """Choices that can be tried together: no one lies on the way to another."""
    left = list(steps)
    while left:
        batch: list[Key] = []
        for key in left:
            if all(_apart(programme, chain, key, other) for other in batch):
                batch.append(key)
        left = [key for key in left if key not in batch]
        yield batch


def _apart(programme: Programme, chain: Chain, one: Key, other: Key) -> bool:
    a, b = programme.by_key[one].number, programme.by_key[other].number
    return bool(a) and bool(b) and a != b and a not in _before(chain, b) and b not in _before(chain, a)


def _before(chain: Chain, number: int) -> tuple[int, ...]:
    """Runs on the way to a run, across converters."""
    feeder = chain.circuit.map.feeder[chain.ways[number].near].name
    further = chain.whole_path(feeder) if feeder in chain.site.parts else ()
    return (*chain.circuit.map.upstream[number], *further)


def _of(decision: Decision, new: list[Finding], chain: Chain, n_together: int) -> Finding | None:
    """The finding that a changed choice is to blame for."""
    if n_together == 1:
        return new[0] if new else None
    names = {decision.subject, *chain.behind(decision.number)}
    names |= {chain.name_of[n] for n in chain.ways if decision.number in _before(chain, n)}
    end = chain.ways[decision.number].far_end.part
    return next((f for f in new if f.subject in names or f.subject == end), None)
