"""Without anything that cuts it off, a battery is emptied by the smallest draw and does not recover."""

from collections.abc import Iterator

from ..evidence.banks import Bank, banks, daily_wh, empty_v, ends_by_itself, idle_wh, listed
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Rule, Subject
from ..evidence.views import Evidence
from ..network.battery import cells_of
from ..parts.cell import chemistry
from ..storage.cells import open_circuit_v

RULE = Rule("no-disconnect", Source("common-practice", "every battery has something that ends the discharge"))
LEFT_FRACTION = 0.05  # a disconnect set to the resting voltage with this much left opens early under load
DAY_S = 86400.0
WORDS = Words(
    "nothing cuts {subject} off at the end: without charge, {use} in {days}, and below {empty} it is damaged for good",
    "fit a low-voltage disconnect before all that draws, opening at about {off}{board}",
)
LEFT_ON = Words(
    "nothing cuts {subject} off at the end: {draws} left on by mistake can take it below {empty}, and then it is "
    "damaged for good",
    "fit a low-voltage disconnect before all that draws, opening at about {off}{board}",
)
STATE_IT = "; if its protection board ends a discharge, state its `limits`"


def check(evidence: Evidence) -> Iterator[Finding]:
    for bank in banks(evidence):
        if not _speaks(evidence, bank):
            continue
        texts = {
            "use": "",
            "draws": listed(bank.draws),
            "board": STATE_IT if bank.batteries[0].battery.chemistry in ("LFP", "NMC") else "",
        }
        subject = Subject(bank.name, bank.batteries[0].place)
        found = runtime(evidence, bank)
        if found is None:
            yield RULE.find(Severity.FAILS, subject, LEFT_ON, None, voltages(bank), texts)
            continue
        texts["use"], days = found
        numbers = voltages(bank) | {"days": Number(days * DAY_S, "time")}
        yield RULE.find(Severity.FAILS, subject, WORDS, None, numbers, texts)


def never_ending(evidence: Evidence, bank: Bank) -> tuple[str, ...]:
    """What draws from a bank and does not stop by itself before it is empty."""
    least_v = max(empty_v(view) for view in bank.batteries)
    return tuple(name for name in bank.draws if not ends_by_itself(evidence, name, least_v))


def runtime(evidence: Evidence, bank: Bank) -> tuple[str, float] | None:
    """What takes a full bank to flat, in words, and the days it needs; None when nothing draws by plan.

    Idle draws alone when there are any, else the use of a mean day.
    """
    idle = idle_wh(evidence, bank, bank.draws)
    if idle > 0:
        return "what draws all the time takes it from full to flat", bank.energy_wh / idle
    daily = daily_wh(evidence, bank, bank.draws)
    return ("daily use takes it from full to flat", bank.energy_wh / daily) if daily > 0 else None


def voltages(bank: Bank) -> dict[str, Number]:
    """The voltage below which a bank suffers, and the one at which a disconnect should open."""
    battery = bank.batteries[0].battery
    resting_v = cells_of(battery) * open_circuit_v(chemistry(battery.chemistry), LEFT_FRACTION)
    least_v = max(empty_v(view) for view in bank.batteries)
    return {"empty": Number(least_v, "voltage"), "off": Number(max(resting_v, least_v), "voltage")}


def spare_v(evidence: Evidence, battery: str, name: str) -> float:
    """How far the low cases of a battery lie below the voltage at which a part is or would be cut off. [V]

    They go down to the battery's bitter end when nothing cuts it off, or when something draws past its disconnect.
    What stops only there stops because the battery is flat, or is cut off long before.
    """
    bank = _bank_of(evidence, battery)
    found = next((view for view in bank.batteries if view.name == battery), None) if bank else None
    if bank is None or found is None:
        return 0.0
    behind = bank.disconnects and name not in bank.passing
    off_v = min(view.part.off_v for view in bank.disconnects) if behind else voltages(bank)["off"].value
    return max(0.0, off_v - found.low_v)


def told_of(evidence: Evidence, battery: str) -> bool:
    """True when a part that stops at the bitter end is told of elsewhere, or never sees it behind its disconnect."""
    bank = _bank_of(evidence, battery)
    return bank is not None and (bool(bank.disconnects) or _speaks(evidence, bank))


def _bank_of(evidence: Evidence, battery: str) -> Bank | None:
    return next((bank for bank in banks(evidence) if battery in [view.name for view in bank.batteries]), None)


def _speaks(evidence: Evidence, bank: Bank) -> bool:
    return not (bank.has_board or bank.disconnects) and bool(never_ending(evidence, bank))
