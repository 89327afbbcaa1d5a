"""Colours of the wires by the convention that the site's table set goes with."""

from ...site.model import Site
from ...site.record import record
from ...tables.reader import rows
from ...tables.sources import source


@record(frozen=True)
class Colours:
    """Two colours, what they are called by, and how that was read."""

    convention: str
    positive: str
    negative: str
    named: str
    source: str
    read: str

    @property
    def title(self) -> str:
        """The publication with its year."""
        return str(source(self.source))


def conventions() -> tuple[Colours, ...]:
    """All that are known, the international one first."""
    return tuple(
        Colours(str(row["convention"]), str(row["positive"]), str(row["negative"]), str(row["named"]),
                str(row["row_source"]), str(row["row_read"]))
        for row in rows("wire_colours")
    )  # fmt: skip


def colours_of(site: Site) -> Colours:
    """The convention of the table set that judges the site: IEC where it says nothing else."""
    return next(known for known in conventions() if known.convention == site.about.rules)
