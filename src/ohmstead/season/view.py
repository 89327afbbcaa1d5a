"""What the season rules look at: a site, every hour of its years, and what the years come to.

Light to import, since every command that lists the rules does so; the numbers themselves need numpy.
"""

from typing import TYPE_CHECKING

from ..site.model import Site
from ..site.place import Place
from ..site.record import record

if TYPE_CHECKING:
    from .ledger import Ledger
    from .refill import Refill
    from .year import Month, Summary


@record(frozen=True)
class SeasonView:
    """One season, judged as a whole. A rule that has `ASKS = "season"` is given one."""

    site: Site
    ledger: "Ledger"
    summary: "Summary"

    @property
    def battery(self) -> tuple[str, Place]:
        """Name of the bank (its first battery) and where it stands in the file."""
        name = self.ledger.bank.names[0]
        return name, self.site.batteries[name].place

    @property
    def arrays(self) -> tuple[str, Place]:
        """Names of all arrays and where the first stands in the file."""
        return " and ".join(self.site.arrays), next(iter(self.site.arrays.values())).place

    @property
    def worst_month(self) -> "Month":
        """The month with most unserved; where nothing lacks, the one whose harvest covers least of the load."""
        months = self.summary.months
        lacking = max(months, key=lambda month: month.unserved_wh)
        if lacking.unserved_wh > 0.0:
            return lacking
        return min(months, key=lambda month: month.harvest_wh / max(month.served_wh + month.unserved_wh, 1e-9))

    @property
    def refill(self) -> "Refill":
        """What a sunny day of the poorest month brings, against what fills the battery."""
        from .refill import refill_of

        return refill_of(self.ledger)


def view_of(site: Site, ledger: "Ledger | None" = None, summary: "Summary | None" = None) -> SeasonView:
    """The view of a site's season, reckoned unless it is at hand. Raises SiteError with what a season lacks.

    Raises ImportError when numpy is not installed (extra `season`).
    """
    from .reckon import reckon
    from .year import summary_of

    ledger = reckon(site) if ledger is None else ledger
    return SeasonView(site, ledger, summary_of(ledger, site.goal) if summary is None else summary)
