"""The title block: what every page says besides its own content."""

import sys
from os.path import basename
from zlib import crc32

from ...evidence.finding import Finding, Severity
from ...site.record import record
from ..asked import Asked
from ..document import Terms
from .nameless import NAMELESS, NAMELESS_FILE

GRAVE = (Severity.DANGER, Severity.FAILS)
N_REASON = 3
LONGEST_REASON = 72
NOT_GIVEN = "-"
NOT_FIT = "Not fit to build"
CAUTION = "Reckoned, not measured: measure before you trust it. Local codes and licensed practice decide."
LABELS = {
    "site": "Site",
    "sheet": "Sheet",
    "file": "File",
    "mark": "Text",
    "revision": "Revision",
    "date": "Date",
    "page": "Page",
    "units": "Units",
    "made": "Made with",
    "of": "of",
    "caution": "Caution",
}
REASON = "{severity}: {rule} at {subject}"
MORE = "and {count} more"


@record(frozen=True)
class Frame:
    """What stands around every page. `reasons` is empty when nothing speaks against building."""

    site: str
    file: str
    mark: str
    revision: str
    date: str
    paper: str
    units: str
    made: str
    reasons: tuple[str, ...] = ()

    @property
    def why(self) -> str:
        """The reasons in one line."""
        return "; ".join(self.reasons)


def frame_of(asked: Asked, terms: Terms) -> Frame:
    """The title block of a study's sheets."""
    named = terms.sharing != "anonymous"
    return Frame(
        site=asked.site.about.name if named else NAMELESS,
        file=basename(asked.site.path) if named else NAMELESS_FILE,
        mark=text_mark(asked.site.text),
        revision=terms.revision or NOT_GIVEN,
        date=terms.date or NOT_GIVEN,
        paper=terms.paper,
        units=terms.units,
        made=f"Ohmstead {version()}",
        reasons=reasons(grave(asked.findings)) if asked.verdict == "fails" else (),
    )


def grave(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The findings that forbid building: dangers and failures that nobody accepted."""
    return tuple(finding for finding in findings if finding.severity in GRAVE and not finding.accepted)


def reasons(findings: tuple[Finding, ...]) -> tuple[str, ...]:
    """The first few findings in a few words each, and how many more there are."""
    said = [REASON.format(severity=f.severity.value, rule=f.rule, subject=f.subject) for f in findings[:N_REASON]]
    short = [text if len(text) <= LONGEST_REASON else text[: LONGEST_REASON - 1] + "…" for text in said]
    left = len(findings) - len(said)
    return tuple([*short, MORE.format(count=left)] if left else short)


def text_mark(text: str) -> str:
    """A short mark of the site file's text, the same that `ohmstead check` prints."""
    return f"{crc32(text.encode()):08x}"


def version() -> str:
    """The version of the program."""
    return str(getattr(sys.modules[__name__.partition(".")[0]], "__version__", ""))
