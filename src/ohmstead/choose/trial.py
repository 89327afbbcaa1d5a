"""A full check of a site: solved, gathered, judged; with what the builder accepts left out."""

from collections.abc import Iterable
from datetime import date

from ..evidence.finding import Finding, Severity
from ..evidence.gather import gather
from ..evidence.views import Evidence
from ..network.operate import Operation, operate
from ..rules.catalogue import run_rules
from ..site.model import Site
from ..site.record import record

GRAVE = (Severity.DANGER, Severity.FAILS)


@record(frozen=True)
class Trial:
    """A site with everything computed from it. `failing` holds what fails and is not accepted."""

    site: Site
    operation: Operation
    evidence: Evidence
    findings: tuple[Finding, ...]

    @property
    def failing(self) -> tuple[Finding, ...]:
        """Grave findings that the builder did not accept."""
        return tuple(f for f in self.findings if f.severity in GRAVE and not accepted(self.site, f))


def accepted(site: Site, finding: Finding) -> bool:
    """True when the site file accepts this finding today."""
    return any(
        entry.finding == finding.rule
        and entry.on in ("", finding.subject)
        and (not entry.until or entry.until >= date.today().isoformat())
        for entry in site.accepted
    )


def full_check(site: Site, leave_out: Iterable[str] = ()) -> Trial:
    """Solve and judge a site by every rule but those left out."""
    operation = operate(site)
    evidence = gather(operation)
    without = set(leave_out)
    return Trial(site, operation, evidence, tuple(f for f in run_rules(evidence) if f.rule not in without))
