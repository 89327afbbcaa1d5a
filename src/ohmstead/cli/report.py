"""The report of a check, as text."""

from collections.abc import Iterator
from zlib import crc32

from ..evidence.assumed import assumptions
from ..evidence.finding import Finding
from ..quantity.show import show
from ..study import Study, unknown_acceptances
from ..tables.sources import source
from . import texts
from .paper import Paper, wrapped

LABEL = 10


def report(study: Study, paper: Paper) -> Iterator[str]:
    """The lines of the report: title block, findings gravest first, what was taken for granted, cautions."""
    yield from title_block(study, paper)
    yield ""
    for finding in study.findings:
        yield from finding_lines(study, finding, paper)
        yield ""
    if not study.findings:
        yield from (texts.NOTHING_FOUND, "")
    for name in unknown_acceptances(study.site):
        yield from (paper.ink(texts.STALE.format(name=name), "tight"), "")
    yield from taken_for_granted(study, paper)
    yield ""
    yield from cautions(paper)


def title_block(study: Study, paper: Paper) -> Iterator[str]:
    """What was judged, and the outcome in one line."""
    site = study.site
    mark = f"{crc32(site.text.encode()):08x}"
    yield paper.rule("━")
    yield paper.ink(site.about.name, "title")
    yield f"{'file':<{LABEL}}{site.path}   text {mark}"
    for battery in study.evidence.batteries:
        volts = (
            f"{show(battery.full_v, 'voltage')} full, {show(battery.low_v, 'voltage')} low, "
            f"{show(battery.high_v, 'voltage')} charging"
        )
        cells = f"{battery.battery.chemistry} {show(battery.battery.capacity_ah, 'charge')}"
        yield f"{'battery':<{LABEL}}{battery.name}: {cells}; {volts}"
    counts = f"{len(site.parts)} parts, {len(site.runs)} runs, {len(study.cases)} cases solved"
    yield f"{'judged':<{LABEL}}{counts}; tables: {site.about.rules}"
    yield f"{'outcome':<{LABEL}}{outcome(study, paper)}"
    yield paper.rule("━")


def outcome(study: Study, paper: Paper) -> str:
    """How many findings of each severity, accepted ones apart."""
    pieces = []
    for severity, (one, many) in texts.COUNT.items():
        count = sum(1 for f in study.findings if f.severity == severity and not f.accepted)
        if count:
            pieces.append(paper.ink(f"{count} {one if count == 1 else many}", severity))
    accepted = sum(1 for f in study.findings if f.accepted)
    if accepted:
        pieces.append(paper.ink(f"{accepted} accepted", "accepted"))
    return ", ".join(pieces) or paper.ink("nothing found", "fine")


def finding_lines(study: Study, finding: Finding, paper: Paper) -> Iterator[str]:
    """One finding: what, where, how to mend it, by which source and in which case."""
    word = texts.SEVERITY[finding.severity]
    style = "accepted" if finding.accepted else finding.severity.value
    where = f"{texts.LABEL_LINE} {finding.place.line}"
    head = f"{texts.SIGN[finding.severity]} {word:<7}"
    yield f"{paper.ink(head, style)} {paper.ink(finding.rule, 'strong')}  {where}"
    yield f"{'':<{LABEL}} {paper.ink(finding.subject, 'strong')}"
    yield from wrapped(finding.message, LABEL + 1)
    yield from labelled(texts.LABEL_MEND, finding.mend)
    by = f"{source(finding.source.key).title}, {finding.source.place}".rstrip(", ")
    yield from (paper.ink(line, "quiet") for line in labelled(texts.LABEL_BY, by))
    if finding.case:
        title = next((case.title for case in study.cases if case.name == finding.case), "")
        text = f"{finding.case}: {title}" if title else finding.case
        yield from (paper.ink(line, "quiet") for line in labelled(texts.LABEL_CASE, text))
    if finding.accepted:
        yield from wrapped(texts.ACCEPTED.format(because=finding.accepted), LABEL + 1)


def labelled(label: str, text: str) -> list[str]:
    """A wrapped text with a label in its margin."""
    lines = wrapped(text, LABEL + 1)
    if lines:
        lines[0] = f"   {label:<{LABEL - 3}} {lines[0].strip()}"
    return lines


def taken_for_granted(study: Study, paper: Paper) -> Iterator[str]:
    """Every assumption that stands behind the result, with how many parts it concerns."""
    notes = assumptions(study.operation, study.evidence)
    if not notes:
        return
    yield paper.ink(texts.TAKEN, "strong")
    for note, names in notes.items():
        shown = names[0] if len(names) == 1 else f"{len(names)} places"
        yield f"  - {note} ({shown})"
    yield f"  {texts.STANDS}"


def cautions(paper: Paper) -> Iterator[str]:
    """The usual cautions."""
    yield paper.ink(texts.CAUTIONS_TITLE, "strong")
    for text in texts.CAUTIONS:
        first, *rest = wrapped(text, 4)
        yield f"  - {first.strip()}"
        yield from rest
