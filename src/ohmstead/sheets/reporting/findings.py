"""What was found, and what of it the builder accepts."""

from collections.abc import Iterator

from ...evidence.finding import Finding
from ...tables.sources import source
from ..asked import Asked
from ..document import Block, Heading, Table, Text
from ..render.measure import figure
from .words import BY, HEAD, HOW, IN_CASE, MEND, NONE_ACCEPTED, NOTHING_FOUND, NUMBERS, SECTIONS, SEVERITY


def findings(asked: Asked) -> Iterator[Block]:
    """A table of everything found, then each finding with its figures, cure and source."""
    open_ones = [finding for finding in asked.findings if not finding.accepted]
    yield Heading(SECTIONS["findings"])
    if not open_ones:
        yield Text(NOTHING_FOUND)
        return
    rows = tuple(
        (
            str(n),
            SEVERITY[f.severity.value],
            f.rule,
            f.subject,
            _measure(f, f.value),
            _measure(f, f.limit),
            str(f.place.line),
        )
        for n, f in enumerate(open_ones, 1)
    )
    raw = tuple(
        (
            n,
            f.severity.value,
            f.rule,
            f.subject,
            f.value,
            f.limit,
            f.dimension,
            f.case,
            f.message,
            f.mend,
            source(f.source.key).title,
            f.source.place,
            f.place.line,
        )
        for n, f in enumerate(open_ones, 1)
    )
    yield Table(
        "findings",
        HEAD["findings"],
        rows,
        "rlllrrr",
        widths=(4, 12, 26, 32, 10, 10, 6),
        raw_head=(
            "number",
            "severity",
            "rule",
            "at",
            "value",
            "limit",
            "dimension",
            "case",
            "message",
            "mend",
            "source",
            "place",
            "line",
        ),
        raw=raw,
    )
    titles = {case.name: case.title for case in asked.operation.cases}
    for number, finding in enumerate(open_ones, 1):
        yield from _one(number, finding, titles)


def _one(number: int, finding: Finding, titles: dict[str, str]) -> Iterator[Block]:
    yield Heading(f"{number}. {SEVERITY[finding.severity.value]}: {finding.rule}, {finding.subject}", 2)
    yield Text(finding.message[:1].upper() + finding.message[1:] + ".")
    yield Text(MEND.format(mend=finding.mend))
    lines = []
    if finding.case:
        lines.append(IN_CASE.format(title=titles.get(finding.case, finding.case)))
    if finding.numbers:
        shown = (
            f"{name.replace('_', ' ')} {value}" + ("" if value.how == "computed" else f" ({HOW[value.how]})")
            for name, value in finding.numbers.items()
        )
        lines.append(NUMBERS.format(numbers=", ".join(shown)))
    where = f", {finding.source.place}" if finding.source.place else ""
    lines.append(BY.format(title=f"{source(finding.source.key)}{where}."))
    yield Text(" ".join(lines))


def _measure(finding: Finding, value: float | None) -> str:
    return figure(value, finding.dimension) if finding.dimension else ""


def accepted(asked: Asked) -> Iterator[Block]:
    """Findings that the builder lives with, with his reason and until when."""
    found = [finding for finding in asked.findings if finding.accepted]
    yield Heading(SECTIONS["accepted"])
    if not found:
        yield Text(NONE_ACCEPTED)
        return
    until = {(a.finding, a.because): a.until for a in asked.site.accepted}
    rows = tuple(
        (f.rule, f.subject, SEVERITY[f.severity.value], f.accepted, until.get((f.rule, f.accepted), "")) for f in found
    )
    yield Table("accepted", HEAD["accepted"], rows, "lllll", widths=(20, 24, 12, 34, 10))
