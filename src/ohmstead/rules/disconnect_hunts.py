"""A low-voltage disconnect whose voltage springs back above its reconnect setting opens and closes all night."""

from collections.abc import Iterator
from math import ceil, log

from ..evidence.banks import Bank, banks
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import DisconnectView, Evidence

RULE = Rule("disconnect-hunts", Source("common-practice", "hysteresis above the rebound; half a volt at 12 V"))
LEAST_GAP_V, AT_V = 0.5, 12.0  # least gap at 12 V, in proportion above; common practice, no source
RESERVE_FRACTION = 0.2  # of the rebound: batteries age, and their slow part is seldom known; common practice
STEP_V = 0.1  # settings are given to a tenth of a volt
HUNTS = Words(
    "{subject} opens at {off}; without its load (up to {current}) the voltage at {sensed} springs back by {value}, "
    "and {limit} are enough to close it again: {when}",
    "{cure}",
)
CLOSE = Words(
    "{subject} opens at {off} and closes at {on}; without its load (up to {current}) the voltage at {sensed} "
    "springs back by {value} ({slow}): the {limit} between them should be {needed} at least",
    "{cure}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for bank in banks(evidence):
        for view in bank.disconnects:
            gap_v = view.part.on_v - view.part.off_v
            rebound_v = view.rebound_v + view.slow_rebound_v
            needed_v = max(rebound_v * (1 + RESERVE_FRACTION), LEAST_GAP_V * bank.batteries[0].nominal_v / AT_V)
            if rebound_v <= 0 or gap_v >= needed_v:
                continue
            hunts = rebound_v >= gap_v
            numbers = {
                "off": Number(view.part.off_v, "voltage", "stated"),
                "on": Number(view.part.on_v, "voltage", "stated"),
                "current": Number(view.current.value, "current"),
                "fast": Number(view.rebound_v, "voltage"),
                "later": Number(view.slow_rebound_v, "voltage"),
                "needed": Number(needed_v, "voltage"),
            }
            texts = {
                "sensed": view.part.senses or "its input",
                "when": _when(bank, view, gap_v),
                "slow": "its slow part counted" if view.slow_rebound_v > 0 else "more if it has a slow part",
                "cure": _cure(bank, view, needed_v),
            }
            yield RULE.find(
                Severity.FAILS if hunts else Severity.TIGHT,
                Subject(view.name, view.place),
                HUNTS if hunts else CLOSE,
                Measure(rebound_v, gap_v, "voltage"),
                numbers,
                texts,
            )


def closes_after_s(view: DisconnectView, gap_v: float, slow_s: float) -> float:
    """How long after opening the rebound has used up the gap: slow part V·(1 - exp(-t/tau)). [s]"""
    if view.rebound_v >= gap_v:
        return 0.0
    short_v = gap_v - view.rebound_v
    if short_v >= view.slow_rebound_v:
        return float("inf")
    return -slow_s * log(1 - short_v / view.slow_rebound_v)


def _when(bank: Bank, view: DisconnectView, gap_v: float) -> str:
    after_s = closes_after_s(view, gap_v, max(battery.battery.slow_s for battery in bank.batteries))
    every_s = after_s + view.part.delay_s
    if every_s < 1:
        return "at once, and so on as fast as its contacts move"
    if every_s == float("inf"):
        return "in the end"
    return f"about every {Number(float(f'{every_s:.1e}'), 'time')}, as long as the load is there"


def _cure(bank: Bank, view: DisconnectView, needed_v: float) -> str:
    """The least reconnect setting that holds, or less rebound when the battery never gets that high."""
    least_v = ceil((view.part.off_v + needed_v) / STEP_V - 1e-6) * STEP_V
    most_v = max(battery.high_v for battery in bank.batteries)
    less = "put less load behind it, or bring the resistance up to where it senses down"
    if least_v > most_v:
        return f"{less}: no setting helps below {Number(most_v, 'voltage')}, the most the battery reaches"
    return f"let it close again at {Number(least_v, 'voltage')} or higher; or {less}"
