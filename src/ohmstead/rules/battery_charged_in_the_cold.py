"""A lithium cell that is charged below freezing grows metal inside and is spoilt for good."""

from collections.abc import Iterator

from ..evidence.banks import banks, listed
from ..evidence.cold import coldest_c
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("battery-charged-in-the-cold", Source("lfp-cell-sheet", "charging temperature, from memory"))
LEAST_C = {"LFP": 0.0, "NMC": 0.0}  # lowest cell temperature for charging on cell sheets, from memory; lead has none
SMALL_MARGIN_K = 2.0  # what a thermometer and a draught make out; common practice, no source
COLD = Words(
    "the air around {subject} falls to {value}, and {chargers} may charge all the same: below {limit} the "
    "protection refuses, or the cells are spoilt",
    "move it to where it stays above {limit}, insulate it and heat it before charging, or let the charger measure "
    "the cells and wait",
)
CLOSE = Words(
    "the air around {subject} falls to {value}; below {limit} the cells take no charge",
    "measure the cells once on the coldest morning before relying on it",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for bank in banks(evidence):
        if not bank.chargers:
            continue
        for view in bank.batteries:
            least_c, air_c = LEAST_C.get(view.battery.chemistry), coldest_c(evidence, view)
            if least_c is None or air_c is None or air_c >= least_c + SMALL_MARGIN_K:
                continue
            cold = air_c < least_c
            yield RULE.find(
                Severity.FAILS if cold else Severity.TIGHT,
                Subject(view.name, view.place),
                COLD if cold else CLOSE,
                Measure(air_c, least_c, "temperature", "least"),
                {"margin": Number(SMALL_MARGIN_K, "temperature difference", "assumed")},
                {"chargers": listed(charger.name for charger in bank.chargers)},
            )
