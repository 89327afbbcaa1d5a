"""A device that gets more voltage than it bears is destroyed, at the latest when the battery is charged."""

from collections.abc import Iterator

from ..evidence.banks import banks
from ..evidence.feeding import converter_named
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject, rounded
from ..evidence.views import BatteryView, DeviceView, Evidence
from .charging_voltage_wrong_for_battery import charging_limit_v

RULE = Rule("voltage-too-high", Source("common-practice", "input window on the device's own sheet"))
SMALL_MARGIN_FRACTION = 0.01  # what a set-point or a meter is easily off; common practice
WORDS = Words("up to {value} reach {subject}{cause}; {limit} is the most", "{cure}")
CLOSE = Words(
    "up to {value} reach {subject}{cause}, and {limit} is the most: a set-point is easily off by more than what is "
    "left",
    "{cure}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    on_ports = {port.device.name for source in evidence.ethernet for port in source.ports}
    for view in evidence.devices:
        if view.high_v is None or view.highest is None or view.name in on_ports:
            continue
        if view.highest.value <= view.high_v * (1 - SMALL_MARGIN_FRACTION) or _passed_through(evidence, view):
            continue
        over = view.highest.value > view.high_v
        if not over and _charger_set_too_high(evidence, view, view.high_v):
            continue
        cause, cure = _cause_and_cure(evidence, view, view.high_v)
        yield RULE.find(
            Severity.DANGER if over else Severity.TIGHT,
            Subject(view.name, view.place, view.highest.case),
            WORDS if over else CLOSE,
            Measure(view.highest.value, view.high_v, "voltage"),
            texts={"cause": cause, "cure": cure},
        )


def _passed_through(evidence: Evidence, view: DeviceView) -> bool:
    """True when a converter passes its input on: one cause, told on the converter."""
    feeder = converter_named(evidence, view.fed_by)
    if feeder is None or not feeder.passing or view.highest is None:
        return False
    return view.highest.value > feeder.converter.output_v.high * (1 + SMALL_MARGIN_FRACTION)


def _cause_and_cure(evidence: Evidence, view: DeviceView, high_v: float) -> tuple[str, str]:
    """Where the voltage comes from, and what lowers it."""
    bears = Number(high_v, "voltage")
    feeder = converter_named(evidence, view.fed_by)
    if feeder is not None:
        span = feeder.converter.output_v
        set_v = Number(rounded(high_v * (1 - SMALL_MARGIN_FRACTION) * span.nominal / span.high, "down", 3), "voltage")
        cure = f"set {feeder.name} to {set_v} or less, so that its tolerance stays below {bears}"
        return f" from {feeder.name}", cure
    battery = next((battery for battery in evidence.batteries if battery.name == view.fed_by), None)
    highest = Number(view.highest.value if view.highest else high_v, "voltage")
    direct = f"feed it through a converter that holds its voltage, or take a device that bears {highest}"
    if battery is None:
        return "", direct
    return _while_charging(battery, high_v, view.highest.case if view.highest else ""), direct


def _while_charging(battery: BatteryView, high_v: float, case: str) -> str:
    """Which of the battery's voltages is too much."""
    if battery.full_v > high_v:
        return f" from {battery.name}, already when it is full"
    return f" while {battery.name} is {'equalised' if case.startswith('equalising') else 'charged'}"


def _charger_set_too_high(evidence: Evidence, view: DeviceView, high_v: float) -> bool:
    """True when all would be well with the charger at what its battery bears: told there."""
    bank = next((b for b in banks(evidence) if view.fed_by in [battery.name for battery in b.batteries]), None)
    if bank is None or view.highest is None:
        return False
    proper_v = min(charging_limit_v(battery) for battery in bank.batteries)
    excess_v = max((charger.part.voltage_v - proper_v for charger in bank.chargers), default=0.0)
    return excess_v > 0 and view.highest.value - excess_v <= high_v * (1 - SMALL_MARGIN_FRACTION)
