"""Panels that give more voltage in the cold than their controller bears destroy it on the first frosty morning."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("array-voltage-over-controller", Source("iec-62548", "voltage of the array at the lowest temperature"))
SMALL_MARGIN_FRACTION = 0.03  # spread of open voltage between modules of one kind; common practice, no source
OVER = Words(
    "{subject} gives {value} with nothing drawn at {coldest} ({known}); {controller} bears {limit} at its input",
    "put {fewer} modules in a string instead of {series}, or fit a controller that bears more than {ample}",
)
LONE = Words(
    "{subject} gives {value} with nothing drawn at {coldest} ({known}); {controller} bears {limit} at its input",
    "fit a controller that bears more than {ample}, or modules of lower voltage",
)
NEAR = Words(
    "{subject} gives {value} with nothing drawn at {coldest} ({known}), close to the {limit} that {controller} bears",
    "look up the record cold of the place and the modules' own change with temperature before building",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.arrays:
        charger = view.charger
        if charger is None or charger.array_limit_v is None or view.open_cold_v is None or view.coldest_c is None:
            continue
        measure = Measure(view.open_cold_v, charger.array_limit_v, "voltage")
        if measure.margin_fraction >= SMALL_MARGIN_FRACTION:
            continue
        over, series = measure.value > measure.limit, view.array.series
        fewer = int(series * measure.limit / measure.value)
        yield RULE.find(
            Severity.DANGER if over else Severity.TIGHT,
            Subject(view.name, view.place),
            NEAR if not over else OVER if fewer else LONE,
            measure,
            {
                "coldest": Number(view.coldest_c, "temperature"),
                "series": Number(series, "count", "stated"),
                "fewer": Number(fewer, "count"),
            },
            {"known": view.coldest_from, "controller": charger.name},
        )
