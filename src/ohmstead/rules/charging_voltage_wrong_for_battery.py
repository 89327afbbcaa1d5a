"""A charger set too high spoils its battery, one set too low never fills it."""

from collections.abc import Iterator

from ..evidence.banks import Bank, banks
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import BatteryView, Carrier, Evidence
from ..network.battery import cells_of
from ..parts.cell import chemistry
from ..site.kinds import Charger
from ..storage.cells import open_circuit_v

RULE = Rule("charging-voltage-wrong-for-battery", Source("common-practice", "charging voltage on the battery's sheet"))
SMALL_MARGIN_FRACTION = 0.01  # what a set-point is easily off; common practice, no source
LEAD_FRACTION = 0.03  # by this much makers of lead batteries differ; battery guides, from memory
FULL_ENOUGH = 0.9  # a lithium battery that gets no fuller has lost that much capacity; common practice, no source
LEAST_LEAD_V = 2.2  # a cell of lead below its floating voltage never fills and sulphates: battery guides, from memory
LITHIUM = ("LFP", "NMC")
OVER = Words(
    "{does} voltage of {subject} is {value}; {limit} is the most for {battery} ({known})",
    "set it to {no_more} or less",
)
NO_EQUALISING = Words(
    "the equalising voltage of {subject} is {value}; {chemistry} like {battery} must not be equalised, and bears "
    "{limit} ({known})",
    "switch equalising off, or set it to {no_more} or less",
)
SLIGHTLY = Words(
    "{does} voltage of {subject} is {value}, a little above the {limit} for {battery} ({known})",
    "set it to {no_more} or less, and measure at the battery's poles",
)
NEVER_FULL = Words(
    "the charging voltage of {subject} is {value}, where {battery} rests at {share} of the charge: fuller it never "
    "gets",
    "set it to {charging} ({known})",
)
SULPHATES = Words(
    "the charging voltage of {subject} is {value}; {battery} needs {limit} to fill at all, and sulphates below",
    "set it to {charging} ({known})",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for bank in banks(evidence):
        if not bank.chargers:
            continue
        weakest = min(bank.batteries, key=charging_limit_v)
        for charger in bank.chargers:
            yield from _too_high(charger, weakest)
        yield from _too_low(bank, max(bank.chargers, key=lambda charger: charger.part.voltage_v))


def charging_limit_v(view: BatteryView) -> float:
    """The highest voltage a battery is charged with: as stated, else that of its cells. [V]"""
    by_cells_v = cells_of(view.battery) * chemistry(view.battery.chemistry).charging_v
    return view.battery.charging_v or round(by_cells_v, 6)


def _equalising_limit_v(view: BatteryView) -> float | None:
    """The voltage a battery may be equalised with; None when it must not be. [V]"""
    if view.battery.equalising_v is not None:
        return view.battery.equalising_v
    each_v = chemistry(view.battery.chemistry).equalising_v
    return None if each_v is None else max(cells_of(view.battery) * each_v, charging_limit_v(view))


def _too_high(charger: Carrier[Charger], view: BatteryView) -> Iterator[Finding]:
    limit_v = charging_limit_v(view)
    if charger.part.voltage_v > limit_v:
        yield _over(charger, view, Measure(charger.part.voltage_v, limit_v, "voltage"), "charging")
    elif charger.part.equalising_v is not None:
        most_v = _equalising_limit_v(view)
        if charger.part.equalising_v > (most_v or limit_v):
            measure = Measure(charger.part.equalising_v, most_v or limit_v, "voltage")
            yield _over(charger, view, measure, "equalising" if most_v else "must not")


def _over(charger: Carrier[Charger], view: BatteryView, measure: Measure, does: str) -> Finding:
    """Lithium cells above what their kind bears may burn; everything else ages or gasses."""
    assumed_lead = view.battery.charging_v is None and view.battery.chemistry not in LITHIUM
    off_fraction = LEAD_FRACTION if assumed_lead and does == "charging" else SMALL_MARGIN_FRACTION
    slightly = measure.value <= measure.limit * (1 + off_fraction)
    kind = chemistry(view.battery.chemistry)
    beyond = measure.value > cells_of(view.battery) * kind.charging_v * (1 + SMALL_MARGIN_FRACTION)
    burns = beyond and view.battery.chemistry in LITHIUM
    words = SLIGHTLY if slightly else NO_EQUALISING if does == "must not" else OVER
    return RULE.find(
        Severity.TIGHT if slightly else Severity.DANGER if burns else Severity.FAILS,
        Subject(charger.name, charger.place),
        words,
        measure,
        texts=_texts(view) | {"does": "the charging" if does == "charging" else "the equalising"},
    )


def _too_low(bank: Bank, charger: Carrier[Charger]) -> Iterator[Finding]:
    view = max(bank.batteries, key=charging_limit_v)
    value = charger.part.voltage_v
    cells, kind = cells_of(view.battery), chemistry(view.battery.chemistry)
    numbers = {"charging": Number(charging_limit_v(view), "voltage")}
    subject = Subject(charger.name, charger.place)
    if view.battery.chemistry not in LITHIUM:
        if value < cells * LEAST_LEAD_V:
            measure = Measure(value, cells * LEAST_LEAD_V, "voltage", "least")
            yield RULE.find(Severity.FAILS, subject, SULPHATES, measure, numbers, _texts(view))
        return
    stated = view.battery.open_circuit
    least_v = stated.full_v if stated else cells * open_circuit_v(kind, FULL_ENOUGH)
    if value < least_v:
        share = filled_fraction(view, value)
        numbers["share"] = Number(round(share, 2), "share")
        measure = Measure(value, least_v, "voltage", "least")
        yield RULE.find(Severity.FAILS, subject, NEVER_FULL, measure, numbers, _texts(view))


def filled_fraction(view: BatteryView, voltage_v: float) -> float:
    """State of charge at which a battery rests at a voltage: its stated voltages, else the curve of its cells."""
    battery, stated = view.battery, view.battery.open_circuit
    points = [(share, cells_of(battery) * volts) for share, volts in chemistry(battery.chemistry).resting]
    if stated is not None:
        points = [(0.0, stated.cutoff_v), (0.5, stated.nominal_v), (1.0, stated.full_v)]
    for (low, low_v), (high, high_v) in zip(points, points[1:], strict=False):
        if voltage_v <= high_v and high_v > low_v:
            return max(0.0, low + (high - low) * (voltage_v - low_v) / (high_v - low_v))
    return 1.0


def _texts(view: BatteryView) -> dict[str, str]:
    cells, kind = cells_of(view.battery), chemistry(view.battery.chemistry)
    of_cells = f"{cells} cells at {Number(kind.charging_v, 'voltage')}"
    return {
        "battery": view.name,
        "chemistry": kind.title,
        "known": "as stated" if view.battery.charging_v is not None else of_cells,
    }
