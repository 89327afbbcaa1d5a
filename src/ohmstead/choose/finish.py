"""What follows once wires, fuses and ratings are picked: ends that fit them, and blocks that carry them."""

from collections.abc import Iterator
from dataclasses import replace

from ..evidence.finding import Finding, Severity
from ..site.kinds import Distribution
from ..site.model import Site
from ..site.record import record
from .assign import assigned
from .blocks import KEYS, open_blocks, sized, with_figure
from .choice import Choice
from .collide import Clash
from .ends import OPEN, fittings, open_places
from .explain import Reason
from .trial import Trial, accepted, full_check

UNKNOWN = "terminal-does-not-fit-stud"
LEFT_OPEN = "choice-left-open"


@record(frozen=True)
class Finish:
    """The site with everything in it, what was chosen for it, and what could not be."""

    trial: Trial
    choices: tuple[Choice, ...]
    clashes: tuple[Clash, ...]
    unknown: tuple[Clash, ...]


def finished(site: Site, trial: Trial) -> Finish:
    """Complete a site whose wires, fuses and ratings are picked; `site` is the site as written."""
    picked = trial.site
    ends = list(_ends(site, picked))
    choices = [choice for choice, _ in ends if choice is not None]
    unknown = tuple(clash for _, clashes in ends for clash in clashes)
    clashes = []
    if any(True for _ in open_blocks(site)):
        parts = dict(picked.parts)
        for found in sized(picked, trial):
            if found.clash is not None:
                clashes.append(found.clash)
                continue
            block = parts[found.subject]
            assert isinstance(block, Distribution)
            parts[found.subject] = with_figure(block, found.attribute, found.value)
            choices.append(Choice(found.subject, KEYS[found.attribute], found.text, found.place, found.reason))
        trial = full_check(replace(picked, parts=parts))
    return Finish(trial, tuple(choices), tuple(clashes), unknown)


def _ends(site: Site, picked: Site) -> Iterator[tuple[Choice | None, list[Clash]]]:
    """The ends of every run that has open ones: as written for the file, and what cannot be told."""
    wires = {run.number: run.wire for run in picked.runs}
    for run in site.runs:
        if run.origin_of("ends") != OPEN:
            continue
        both = fittings(site, replace(run, wire=wires[run.number]))
        for place, sides in open_places(site, run):
            found = [both[side] for side in sides]
            unknown = [Clash(UNKNOWN, run.name, fitting.why) for fitting in found if fitting.end is None]
            if len(unknown) == len(found):
                yield None, unknown
                continue
            text = found[0].text if len(found) == 1 else f"[{', '.join(fitting.text for fitting in found)}]"
            told = "; ".join(f"the {fitting.text} {fitting.why}" for fitting in found if fitting.end is not None)
            yield Choice(run.name, "ends", text, place, Reason(message=told, how="fits")), unknown


def untouched(site: Site) -> Trial:
    """A site in which nothing but ends and blocks is open, solved and judged."""
    return full_check(assigned(site, (), {}))


def near_misses(trial: Trial) -> tuple[Finding, ...]:
    """What a full check calls tight and the builder did not accept; what is still open is told apart."""
    return tuple(
        f
        for f in trial.findings
        if f.severity is Severity.TIGHT and f.rule != LEFT_OPEN and not accepted(trial.site, f)
    )
