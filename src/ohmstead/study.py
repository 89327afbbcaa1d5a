"""The whole chain for one site, each stage computed when first asked."""

from collections.abc import Callable, Iterable, Iterator
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from .evidence.finding import GRAVITY, Finding, Severity
from .evidence.gather import gather
from .evidence.listing import Row, case_rows, part_rows, run_rows
from .evidence.views import Evidence
from .network.cases import Case
from .network.elements import OperatingPoint
from .network.netlist import netlist
from .network.operate import Operation, operate
from .plan.lengths import planned
from .rules.catalogue import Page, page, rule_names, run_rules, run_season_rules
from .site.model import Site
from .site.read import read_site, read_text

if TYPE_CHECKING:
    from pathlib import Path

    from pandas import DataFrame

    from .season.ledger import Ledger
    from .season.view import SeasonView
    from .sheets.document import Document, Terms


class Study:
    """One site and all that follows from it. Raises SiteError when the file cannot be used."""

    def __init__(self, site: Site, today: date | None = None) -> None:
        self.site = planned(site)
        self._today = today

    @cached_property
    def operation(self) -> Operation:
        """Circuit, cases and operating points."""
        return operate(self.site)

    @cached_property
    def evidence(self) -> Evidence:
        """What the rules look at."""
        return gather(self.operation)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What the rules found, gravest first; accepted ones keep their place and carry the reason."""
        return _in_order(self.site, run_rules(self.evidence), self._today)

    @property
    def verdict(self) -> str:
        """ "fine" when nothing is wrong or all of it is accepted, else "fails"."""
        grave = (Severity.DANGER, Severity.FAILS)
        return "fails" if any(f.severity in grave and not f.accepted for f in self.findings) else "fine"

    @property
    def cases(self) -> tuple[Case, ...]:
        """Every case that was solved."""
        return self.operation.cases

    def heaviest_case(self) -> Case:
        """The lasting case in which the batteries give most."""
        pairs = zip(self.operation.cases, self.operation.points, strict=True)
        return max((pair for pair in pairs if pair[0].lasts), key=lambda pair: sum(pair[1].source_a))[0]

    def point(self, case: str) -> OperatingPoint:
        """The operating point of a case. Raises KeyError when there is no such case."""
        return self.operation.point(case)

    def rows(self, what: str) -> list[Row]:
        """Rows of "parts", "runs" or "cases". Raises KeyError for anything else."""
        made: dict[str, Callable[[], Iterator[Row]]] = {
            "parts": lambda: part_rows(self.operation),
            "runs": lambda: run_rows(self.operation, self.evidence),
            "cases": lambda: case_rows(self.operation),
        }
        return list(made[what]())

    def table(self, what: str) -> "DataFrame":
        """The same rows as a pandas table. Raises ImportError when pandas is not installed (extra `tables`)."""
        from pandas import DataFrame

        return DataFrame(self.rows(what))

    def netlist(self, case: str) -> str:
        """The circuit of one case for a circuit simulator. Raises KeyError when there is no such case."""
        index = [known.name for known in self.cases].index(self.operation.point(case).corner)
        return netlist(self.operation.circuit.network, self.operation.corners[index])

    def page(self, rule: str) -> Page:
        """The page of a rule. Raises KeyError when there is no such rule."""
        return page(rule)

    def sheets(self, terms: "Terms | None" = None) -> "tuple[Document, ...]":
        """Every sheet to build from, in order; files are made of them by `ohmstead.sheets.render.pack`."""
        from .sheets.catalogue import draw_all
        from .sheets.document import Terms

        wish = terms or Terms()
        return draw_all(self.nameless() if wish.sharing == "anonymous" else self, wish)

    def nameless(self) -> "Study":
        """The same supply with every part called by kind and number, and the site by nothing."""
        from .sheets.render.renamed import renamed

        return Study(renamed(self.site), self._today)

    @cached_property
    def season(self) -> "Ledger":
        """Every hour of the years of the site's weather. Raises SiteError when weather or arrays are missing.

        Raises ImportError when numpy is not installed (extra `season`).
        """
        from .season.reckon import reckon

        return reckon(self.site)


class SeasonStudy(Study):
    """A study whose findings hold those of the season too."""

    def __init__(self, site: Site, view: "SeasonView | None" = None, today: date | None = None) -> None:
        super().__init__(site, today)
        self._view = view

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What all rules found, those of the season included. Raises SiteError with what a season lacks."""
        found = (*run_rules(self.evidence), *season_findings(self.site, self._view, self._today))
        return _in_order(self.site, found, self._today)


def season_findings(site: Site, view: "SeasonView | None" = None, today: date | None = None) -> tuple[Finding, ...]:
    """What the season rules found, gravest first; the season is reckoned unless it is at hand.

    Raises SiteError with what a season lacks, ImportError when numpy is not installed (extra `season`).
    """
    from .season.view import view_of

    return _in_order(site, run_season_rules(view or view_of(site)), today)


def _in_order(site: Site, findings: Iterable[Finding], today: date | None) -> tuple[Finding, ...]:
    """Gravest first, accepted ones marked and last."""
    day = today or date.today()
    found = [_accepted(site, finding, day) for finding in findings]
    return tuple(sorted(found, key=lambda f: (bool(f.accepted), GRAVITY[f.severity], f.place.line, f.rule)))


def _accepted(site: Site, finding: Finding, today: date) -> Finding:
    """The finding, with the reason of the builder who lives with it."""
    for acceptance in site.accepted:
        covers = acceptance.finding == finding.rule and acceptance.on in ("", finding.subject)
        expired = bool(acceptance.until) and acceptance.until < today.isoformat()
        if covers and not expired:
            return finding.accept(acceptance.because)
    return finding


def unknown_acceptances(site: Site) -> tuple[str, ...]:
    """Accepted slugs that no rule has: a typing mistake would otherwise hide nothing and say nothing."""
    return tuple(entry.finding for entry in site.accepted if entry.finding not in rule_names())


def open_site(path: "str | Path") -> Study:
    """Read a site file. Raises SiteError with every problem in it."""
    return Study(read_site(path))


def from_text(text: str, name: str = "site.yaml") -> Study:
    """A study of a site given as text. Raises SiteError with every problem in it."""
    return Study(read_text(text, name))
