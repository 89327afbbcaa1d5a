"""On what the figures stand: tables and how they were read, assumptions, the file itself."""

from collections.abc import Iterator
from hashlib import sha256

from ...evidence.assumed import assumptions
from ...evidence.finding import Finding
from ...evidence.views import RunView
from ...parts.cell import chemistry
from ...tables.sources import source
from ..asked import Asked
from ..document import Block, Heading, Table, Terms
from ..render.frame import Frame, frame_of
from .words import FOR_MORE, GAVE, HEAD, INPUT, SECTIONS, STATED

N_NAME = 3
Row = tuple[str, str, str, str]


def sources(asked: Asked) -> Iterator[Block]:
    """Every publication that gave a figure to this site, and how it was read."""
    found: dict[Row, None] = {}
    for battery in asked.site.batteries.values():
        cell = chemistry(battery.chemistry)
        if battery.open_circuit is None:
            found[_row("cell", battery.chemistry, cell.resting_source, "", cell.resting_read)] = None
        if battery.resistance_ohm is None:
            found[_row("resistance", battery.chemistry, cell.resistance_source, "", cell.resistance_read)] = None
    for view in asked.evidence.runs:
        found.update(dict.fromkeys(_run(view)))
    found.update(dict.fromkeys(_rule(finding) for finding in asked.findings))
    yield Heading(SECTIONS["sources"])
    yield Table("sources", HEAD["sources"], tuple(found), "llll", widths=(26, 38, 22, 14))


def _run(view: RunView) -> Iterator[Row]:
    if view.wire is not None and view.run.resistance_ohm is None and view.run.wire_ohm_per_km is None:
        what = f"{view.wire.size} {view.wire.strand_class}".strip()
        yield _row("wire", what, view.wire.source, "", view.wire.read)
    if view.run.cable is not None and view.run.resistance_ohm is None:
        yield _row("cable", view.run.cable.name, view.run.cable.source, "", view.run.cable.read)
    if view.wire is not None and view.ampacity is not None and view.ampacity.source:
        limits = view.ampacity
        yield _row("ampacity", f"{view.wire.size} {view.run.laid.method}", limits.source, limits.place, limits.read)
    if view.own_fuse is not None:
        fuse = view.own_fuse.fuse
        family = fuse.family
        if fuse.stated is None:
            yield _row("fuse", family.title, family.source, "", family.read)
        yield _row("breaking", family.title, family.breaking_source, "", family.breaking_read)


def _rule(finding: Finding) -> Row:
    return _row("rule", finding.rule, finding.source.key, finding.source.place, source(finding.source.key).note)


def _row(gave: str, what: str, key: str, place: str, read: str) -> Row:
    if key == "stated":
        return GAVE[gave].format(what=what), STATED, place, read
    return GAVE[gave].format(what=what), str(source(key)), place, read


def assumed(asked: Asked) -> Iterator[Block]:
    """Every assumption, and for what it was made."""
    found = assumptions(asked.operation, asked.evidence)
    yield Heading(SECTIONS["assumed"])
    raw = tuple((note, len(names), "; ".join(names)) for note, names in found.items())
    yield Table(
        "assumed",
        HEAD["assumed"],
        tuple((note, _names(names)) for note, names in found.items()),
        "ll",
        widths=(4, 6),
        raw_head=("assumption", "count", "for"),
        raw=raw,
    )


def _names(names: tuple[str, ...]) -> str:
    if len(names) <= N_NAME + 1:
        return ", ".join(names)
    return FOR_MORE.format(names=", ".join(names[:N_NAME]), count=len(names) - N_NAME)


def made_from(asked: Asked, terms: Terms) -> Iterator[Block]:
    """The file, its marks, the version that read it."""
    frame: Frame = frame_of(asked, terms)
    site = asked.site
    counts = INPUT["counted"].format(parts=len(site.parts), runs=len(site.runs), cases=len(asked.operation.cases))
    rows = (
        (INPUT["file"], frame.file),
        (INPUT["mark"], frame.mark),
        (INPUT["sha"], sha256(site.text.encode()).hexdigest()),
        (INPUT["made"], frame.made),
        (INPUT["counts"], counts),
        (INPUT["revision"], frame.revision),
        (INPUT["date"], frame.date),
    )
    yield Heading(SECTIONS["input"])
    yield Table("input", HEAD["input"], rows, "ll", widths=(3, 10))
