"""A back-up source that runs all winter is no back-up: it carries the load that the sun was built for."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject

if TYPE_CHECKING:
    from ..season.view import SeasonView

ASKS = "season"
RULE = Rule("backup-runs-often", Source("common-practice", "what a back-up source carries of the load"))
MOST_SHARE = 0.25  # of the energy of a year; common practice, no source
MOST_STARTS = 120.0  # a year, one in three days: each start wears an engine; common practice, no source
CARRIES = Words(
    "{subject} carries {value} of the load: {hours} hours in {starts} starts a year give {given}",
    "add panels for the dark months, or take part of the load off while they last",
)
STARTS = Words(
    "{subject} starts {value} times in a mean year, for {each} each time",
    "let it run longer: set `stops at` higher or `starts at` lower, or give it a `least run`; or use a larger battery",
)


def check(season: "SeasonView") -> Iterator[Finding]:
    use = season.summary.backup
    if use is None or use.hours <= 0.0:
        return
    numbers = {
        "hours": Number(round(use.hours), "number"),
        "starts": Number(round(use.starts_a_year), "number"),
        "given": Number(use.given_wh, "energy"),
        "each": Number(use.hours / max(use.starts_a_year, 1e-9) * 3600.0, "time"),
    }
    subject = Subject(use.name, season.site.parts[use.name].place)
    if use.of_load_fraction > MOST_SHARE:
        measure = Measure(use.of_load_fraction, MOST_SHARE, "share")
        yield RULE.find(Severity.TIGHT, subject, CARRIES, measure, numbers)
    elif use.starts_a_year > MOST_STARTS:
        measure = Measure(round(use.starts_a_year), MOST_STARTS, "number")
        yield RULE.find(Severity.TIGHT, subject, STARTS, measure, numbers)
