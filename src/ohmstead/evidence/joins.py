"""Paths between negatives that no power run makes: shields and cases of data cables."""

from ..network.points import end_point, start_point
from ..site.kinds import Converter, Device
from ..site.model import Run, Site
from .chain import Chain
from .views import Join


def joins_of(site: Site, chain: Chain) -> tuple[Join, ...]:
    """Every data run that joins two negatives, with the isolated converter it bridges."""
    return tuple(_join(chain, run) for run in site.runs if run.carries == "data" and _conducts(site, run))


def _conducts(site: Site, run: Run) -> bool:
    """A shield joined at both ends, or two devices whose data ports are tied to their negatives."""
    if run.shield == "joined":
        return True
    ends = [site.parts.get(run.start.part), site.parts.get(run.end.part)]
    return all(isinstance(part, Device) and part.negative == "case" for part in ends)


def _join(chain: Chain, run: Run) -> Join:
    a, b = run.start.part, run.end.part
    above_a, above_b = _with_own(chain, a), _with_own(chain, b)
    different = [name for name in (*above_a, *above_b) if (name in above_a) != (name in above_b)]
    bridged = next((name for name in different if _isolated(chain.site, name)), "")
    return Join(run, (a, b), bridged)


def _with_own(chain: Chain, name: str) -> tuple[str, ...]:
    """Sources above a part; a converter's own case stands on its output side."""
    part = chain.site.parts.get(name)
    own = (name,) if isinstance(part, Converter) else ()
    return (*own, *chain.sources_above(name))


def _isolated(site: Site, name: str) -> bool:
    part = site.parts.get(name)
    return isinstance(part, Converter) and part.isolated == "yes"


def touched(site: Site) -> set[str]:
    """Points that some run reaches, power or data."""
    found: set[str] = set()
    for run in site.runs:
        found |= {run.start.part, run.end.part, start_point(site, run.start), end_point(site, run.end)}
    return found
