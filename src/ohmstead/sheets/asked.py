"""What a sheet may ask of a study: the site, how it works, what was found."""

from typing import Protocol

from ..evidence.finding import Finding
from ..evidence.views import Evidence
from ..network.operate import Operation
from ..site.model import Site


class Asked(Protocol):
    """A solved and judged site; `ohmstead.study.Study` is one."""

    @property
    def site(self) -> Site:
        """What the builder wrote."""

    @property
    def operation(self) -> Operation:
        """Circuit, cases and operating points."""

    @property
    def evidence(self) -> Evidence:
        """What the rules look at."""

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the rules found, gravest first; accepted ones carry the reason."""

    @property
    def verdict(self) -> str:
        """ "fine" or "fails"."""
