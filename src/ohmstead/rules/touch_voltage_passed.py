"""Above the touch limit a live part needs a cover, however low the nominal voltage sounds."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence
from ..site.model import NOWHERE
from ..tables.reader import rows

RULE = Rule("touch-voltage-passed", Source("iec-61140", "limits of extra-low voltage; 60 V direct for touching"))
# Wet places: up to 30 V direct needs no cover. From memory: IEC 60364-4-41, 414.4.5, and the note on wet
# contact at NEC chapter 9 table 11(B).
WET_V = 30.0
SMALL_MARGIN = 0.02  # set voltage of a charger and of a meter together; common practice, no source
OUT_OF_BAND = Words(
    "up to {value} stand at {subject}: above {limit} direct voltage this is no extra-low voltage any more, and the "
    "tables and habits used here do not hold",
    "lower the voltage; otherwise this is work for those licensed for low voltage",
)
TOUCH = Words(
    "up to {value} stand at {subject}: above {limit} live parts must not be touchable in a {how} place (the "
    "highest charging voltage counts, not the nominal one)",
    "cover all live parts, so that a tool is needed to reach them, or stay below {limit}",
)
CLOSE = Words(
    "up to {value} stand at {subject}, just below the {limit} above which live parts must be covered",
    "set and measure the charging voltage with care, and cover live parts anyway",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    limits = {str(row["name"]): float(row["direct_v"]) for row in rows("voltage_limit")}
    most_v, dry_v = limits["extra-low voltage"], limits["touchable without protection"]
    touch_v = dry_v if evidence.touch == "dry" else WET_V
    high_v = evidence.highest_v
    if high_v <= touch_v * (1 - SMALL_MARGIN):
        return
    subject = _where(evidence, high_v)
    how = {"how": evidence.touch}
    if high_v > most_v:
        yield RULE.find(Severity.DANGER, subject, OUT_OF_BAND, Measure(high_v, most_v, "voltage"))
    elif high_v > dry_v:
        yield RULE.find(Severity.FAILS, subject, TOUCH, Measure(high_v, touch_v, "voltage"), texts=how)
    elif high_v > touch_v:
        # Between the wet and the dry limit covered parts are all it takes: warned of, not condemned.
        yield RULE.find(Severity.TIGHT, subject, TOUCH, Measure(high_v, touch_v, "voltage"), texts=how)
    elif evidence.touch == "dry":
        numbers = {"share": Number(SMALL_MARGIN, "share", "assumed")}
        yield RULE.find(Severity.TIGHT, subject, CLOSE, Measure(high_v, touch_v, "voltage"), numbers)


def _where(evidence: Evidence, high_v: float) -> Subject:
    """The source that makes the highest voltage: the one nearest to it."""
    known = [(battery.high_v, Subject(battery.name, battery.place)) for battery in evidence.batteries]
    known += [(view.converter.output_v.high, Subject(view.name, view.place)) for view in evidence.converters]
    known += [
        (max(view.part.voltage_v, view.part.equalising_v or 0.0), Subject(view.name, view.place))
        for view in evidence.chargers
    ]
    known += [
        (view.source.output_v.high, Subject(view.name, view.place))
        for view in evidence.ethernet
        if view.source.output_v is not None
    ]
    if not known:
        return Subject("site", NOWHERE)
    return min(known, key=lambda entry: abs(entry[0] - high_v))[1]
