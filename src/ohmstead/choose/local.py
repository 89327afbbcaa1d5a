"""What each option breaks at its own place, asked of the rules themselves, one option at a time."""

from collections.abc import Iterable, Iterator
from dataclasses import fields, replace

from ..evidence.chain import chain_of
from ..evidence.finding import Finding
from ..evidence.protect import own_fuse
from ..evidence.views import Evidence, FuseView, RunView
from ..network.points import Way
from ..parts.fuse import Fuse
from ..parts.wire import Wire
from ..rules.catalogue import module_of
from ..site.kinds import Converter
from ..site.model import Run, Site
from ..wiring.ampacity import Laid, ampacity_a, stated_ampacity
from .ends import with_ends
from .options import Decision
from .programme import Programme
from .trial import GRAVE, Trial, accepted

WIRE_RULES = (
    "terminal-does-not-take-wire",
    "insulation-below-place",
    "conductor-too-thin-for-mechanics",
    "cable-overloaded",
)
FUSE_RULES = ("fuse-voltage-low", "fuse-over-holder", "fuse-overloaded", "start-up-melts-fuse")
RATINGS_OFFERED = 6
BREAKING = "fuse-cannot-break-fault"


class Narrow(Evidence):
    """Evidence in which rules see a few runs only; all others can still be looked up by name."""

    def showing(self, *views: RunView) -> "Narrow":
        """The same evidence with these runs in the place of all."""
        narrow: Narrow = object.__new__(Narrow)
        known = {**self.run_named, **{view.name: view for view in views}}
        narrow.__dict__.update(self.__dict__, runs=views, run_named=known)
        return narrow


def narrow_of(evidence: Evidence) -> Narrow:
    """Evidence that can be narrowed."""
    found: Narrow = object.__new__(Narrow)
    found.__dict__.update({entry.name: getattr(evidence, entry.name) for entry in fields(evidence)})
    return found


def local_demands(programme: Programme, trial: Trial, site: Site) -> None:
    """Forbid every option that its own place refuses; remember those that come near a limit."""
    ways = chain_of(trial.operation.circuit).ways
    narrow = narrow_of(trial.evidence)
    views = {view.run.number: view for view in trial.evidence.runs}
    written = {run.number: run for run in site.runs}
    for decision in programme.decided:
        view = views.get(decision.number)
        if decision.attribute == "rating":
            _ratings(programme, trial, decision)
        elif view is not None:
            _ask(programme, trial, narrow, decision, (ways[decision.number], written[decision.number]))


def _ask(programme: Programme, trial: Trial, narrow: Narrow, decision: Decision, place: tuple[Way, Run]) -> None:
    """Put every option of a decision before the rules; `place` is the run as solved and as written."""
    way, written = place
    view = narrow.run(decision.subject)
    before = [narrow.run(name) for name in view.upstream]
    closed = not any(run.run.number in _open_numbers(programme) for run in before)
    judged = {}
    for index, option in enumerate(decision.options):
        if isinstance(option.thing, Wire):
            fitted = with_ends(trial.site, replace(written, wire=option.thing))
            changed = with_wire(narrow, replace(view, run=replace(view.run, ends=fitted.ends)), option.thing)
            found = run_some(WIRE_RULES, narrow.showing(changed))
        elif isinstance(option.thing, Fuse):
            changed = with_fuse(trial, view, way, option.thing)
            found = run_some((*FUSE_RULES, BREAKING) if closed else FUSE_RULES, narrow.showing(changed))
        judged[index] = list(found)
    by_rule: dict[str, list[int]] = {}
    words: dict[str, Finding] = {}
    for index, findings in judged.items():
        for finding in findings:
            column = programme.column(decision, index)
            if finding.severity in GRAVE and not accepted(trial.site, finding):
                by_rule.setdefault(finding.rule, []).append(column)
                if finding.rule != "terminal-does-not-take-wire" or finding.rule not in words:
                    words[finding.rule] = finding  # the refused one that comes nearest
                programme.notes[(finding.rule, column)] = finding.message
            elif finding.severity not in GRAVE:
                programme.wish[column] = programme.wish.get(column, 0) + 1
    for rule, columns in by_rule.items():
        programme.forbid(rule, decision.subject, words[rule].message, columns)
    refused = {column for columns in by_rule.values() for column in columns}
    _drop_large(programme, decision, refused)
    programme.refused |= refused | programme.dropped


def _drop_large(programme: Programme, decision: Decision, refused: set[int]) -> None:
    """Of each kind only the first ratings that carry the load are offered: larger ones need more metal."""
    seen: dict[str, int] = {}
    alike: set[tuple[str, float]] = set()
    for index, option in enumerate(decision.options):
        column = programme.column(decision, index)
        if not isinstance(option.thing, Fuse) or column in refused:
            continue
        name = option.thing.family.name
        seen[name] = seen.get(name, 0) + 1
        twin = (option.thing.family.words[0], option.thing.rating_a)
        if seen[name] > RATINGS_OFFERED or twin in alike:
            programme.dropped.add(column)
        if column not in programme.wish:
            alike.add(twin)  # the same fuse for a higher voltage is not needed besides


def _open_numbers(programme: Programme) -> set[int]:
    return {decision.number for decision in programme.decided}


def run_some(slugs: Iterable[str], evidence: Evidence) -> Iterator[Finding]:
    """Findings of some rules."""
    for slug in slugs:
        yield from module_of(slug).check(evidence)


def with_wire(evidence: Evidence, view: RunView, wire: Wire) -> RunView:
    """A run's view as if another wire lay there; currents and faults stay."""
    run = replace(view.run, wire=wire)
    laid = Laid(run.laid.method, run.laid.circuits)
    bears = (
        stated_ampacity(run.ampacity_a)
        if run.ampacity_a is not None
        else ampacity_a(wire, laid, view.ambient_c, evidence.rules)
    )
    return replace(view, run=run, wire=wire, ampacity=bears)


def with_fuse(trial: Trial, view: RunView, way: Way, fuse: Fuse) -> RunView:
    """A run's view as if another fuse sat there."""
    run = replace(view.run, fuse=fuse)
    own: FuseView | None = own_fuse(trial.site, replace(way, run=run))
    return replace(view, run=run, own_fuse=own, guard=own)


def _ratings(programme: Programme, trial: Trial, decision: Decision) -> None:
    """A converter must hold what is asked of it for hours, in the air it stands in."""
    view = next((view for view in trial.evidence.converters if view.name == decision.subject), None)
    if view is None or not isinstance(view.converter, Converter):
        return
    bad: dict[str, list[int]] = {}
    words: dict[str, str] = {}
    share = (view.derated_w or 0.0) / view.converter.rating_w if view.converter.rating_w else 1.0
    for index, option in enumerate(decision.options):
        watts = option.thing
        assert isinstance(watts, float)
        changed = replace(view, converter=replace(view.converter, rating_w=watts), derated_w=watts * share)
        found = run_some(
            ("converter-overloaded", "converter-overloaded-when-hot"), replace(trial.evidence, converters=(changed,))
        )
        for finding in found:
            column = programme.column(decision, index)
            if finding.severity in GRAVE and not accepted(trial.site, finding):
                bad.setdefault(finding.rule, []).append(column)
                words.setdefault(finding.rule, finding.message)
            else:
                programme.wish[column] = programme.wish.get(column, 0) + 1
    for rule, columns in bad.items():
        programme.forbid(rule, decision.subject, words[rule], columns)
