"""A plain switching controller pulls its panels down to the battery's voltage; what lies above it is lost."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("switching-controller-wastes-array", Source("common-practice", "match of array and battery voltage"))
USUAL_FRACTION = 0.3  # 18 V modules on a 12.8 V battery waste 27 %, which such controllers are sold for
RESTING = 0.93  # usual voltage of a battery over its charging voltage: 13.2 V of 14.2 V
MOST_FRACTION = 0.45
WASTES = Words(
    "{subject} pulls {array} from {volts} down to about {battery} and wastes {value} of its power; up to {limit} is "
    "usual",
    "fit a controller that holds the best point, or put {fewer} modules in a string instead of {series}",
)
LONE = Words(
    "{subject} pulls {array} from {volts} down to about {battery} and wastes {value} of its power; up to {limit} is "
    "usual",
    "fit a controller that holds the best point, or modules made for this battery's voltage",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.arrays:
        charger = view.charger
        if charger is None or charger.type != "switching" or not view.working_v:
            continue
        battery_v = RESTING * charger.voltage_v
        measure = Measure(1.0 - battery_v / view.working_v, USUAL_FRACTION, "share")
        if measure.value <= measure.limit:
            continue
        series = view.array.series
        fewer = next((n for n in range(1, series) if view.working_v / series * n > 1.2 * charger.voltage_v), 0)
        yield RULE.find(
            Severity.FAILS if measure.value > MOST_FRACTION else Severity.TIGHT,
            Subject(charger.name, charger.place),
            WASTES if fewer else LONE,
            measure,
            {
                "volts": Number(view.working_v, "voltage"),
                "battery": Number(battery_v, "voltage"),
                "series": Number(series, "count", "stated"),
                "fewer": Number(fewer, "count"),
            },
            {"array": view.name},
        )
