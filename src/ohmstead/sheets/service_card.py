"""The service card: what to look at each quarter and each autumn, and how tight a stud wants to be."""

from collections.abc import Iterator

from ..evidence.views import Evidence
from ..quantity.show import show
from ..site.kinds import Charger
from ..site.model import Site
from ..tables.reader import rows
from .asked import Asked
from .document import Block, Document, Heading, Steps, Table, Terms, Text
from .owner import words

TITLE = "Service card"
PAPER = "upright"
ORDER = 60
NM_TO_LBIN = 8.8507  # one newton metre in pound-force inches, exact to four digits


def draw(asked: Asked, terms: Terms) -> Document:
    """The card that stays with the supply."""
    blocks: list[Block] = [
        Text(words.CARD_LEAD),
        Heading(words.QUARTER),
        Steps(tuple(quarter(asked.evidence)), "tick"),
        Heading(words.AUTUMN),
        Steps(tuple(autumn(asked.evidence)), "tick"),
        Heading(words.TORQUE_TITLE),
        _torque(asked.site),
        Text(words.TORQUE_NOTE),
    ]
    return Document("service-card", TITLE, tuple(blocks), PAPER)


def quarter(evidence: Evidence) -> Iterator[str]:
    """Lines for each quarter, those of network cable and panels only where there are any."""
    yield from words.QUARTER_STEPS
    powered = [port.device.name for view in evidence.ethernet for port in view.ports]
    if powered:
        yield words.QUARTER_ETHERNET.format(names=", ".join(powered))
    if any(isinstance(view.part, Charger) and view.part.supply == "sun" for view in evidence.chargers):
        yield words.QUARTER_PANELS


def autumn(evidence: Evidence) -> Iterator[str]:
    """Lines for each autumn, with the figures of this supply."""
    capacity = " + ".join(f"{show(view.battery.capacity_ah, 'charge')} ({view.name})" for view in evidence.batteries)
    for text in words.AUTUMN_STEPS:
        yield text.format(capacity=capacity or words.OPEN_ITEM)
    for view in evidence.disconnects:
        yield words.AUTUMN_CUT.format(
            name=view.name, off=show(view.part.off_v, "voltage"), on=show(view.part.on_v, "voltage")
        )
    if any(view.battery.chemistry in ("LFP", "NMC") for view in evidence.batteries):
        yield words.AUTUMN_COLD


def _torque(site: Site) -> Table:
    """Studs that this site names, and the usual ones; both units."""
    named: dict[float, list[str]] = {}
    for name, part in site.parts.items():
        stud = getattr(part, "stud_mm", None)
        if stud:
            named.setdefault(stud, []).append(name)
    for run in site.runs:
        for end, to in zip(run.ends, (run.start, run.end), strict=False):
            if end is not None and end.stud_mm:
                named.setdefault(end.stud_mm, []).append(to.part)
    printed, raw = [], []
    for row in rows("stud_torque"):
        stud, least, most = float(row["stud_mm"]), float(row["least_nm"]), float(row["most_nm"])
        where = ", ".join(dict.fromkeys(named.get(stud, []))) or "-"
        printed.append((f"M{stud:g}", _both(least), _both(most), where))
        raw.append((stud, least, most, where))
    return Table(
        "torque",
        words.TORQUE_HEAD,
        tuple(printed),
        "lrrl",
        widths=(0.1, 0.22, 0.22, 0.46),
        raw_head=("stud_mm", "least_nm", "most_nm", "where"),
        raw=tuple(raw),
    )


def _both(torque_nm: float) -> str:
    return f"{torque_nm:g} Nm ({torque_nm * NM_TO_LBIN:.0f} lb·in)"
