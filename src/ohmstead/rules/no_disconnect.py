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
    "nothing cuts {subject} off at the end: without charge, {use} in {days}, and below {empty} it is damaged for "
    "good",
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
        return "idle draws alone take it from full to flat", bank.energy_wh / idle
    daily = daily_wh(evidence, bank, bank.draws)
    return ("daily use takes it from full to flat", bank.energy_wh / daily) if daily > 0 else None


def voltages(bank: Bank) -> dict[str, Number]:
    """The voltage below which a bank suffers, and the one at which a disconnect should open."""
    battery = bank.batteries[0].battery
    resting_v = cells_of(battery) * open_circuit_v(chemistry(battery.chemistry), LEFT_FRACTION)
    least_v = max(empty_v(view) for view in bank.batteries)
    return {"empty": Number(least_v, "voltage"), "off": Number(max(resting_v, least_v), "voltage")}


def spare_v(evidence: Evidence, battery: str) -> float:
    """How far a battery without a disconnect sinks below where one would open; 0 for one that has it. [V]

    Its low cases are those of a battery with nothing left: what stops only there stops because it is flat.
    """
    for bank in banks(evidence):
        found = next((view for view in bank.batteries if view.name == battery), None)
        if found is not None and not bank.disconnects:
            return max(0.0, voltages(bank)["off"].value - found.low_v)
    return 0.0


def speaks(evidence: Evidence, battery: str) -> bool:
    """True when this rule speaks of the bank of a battery."""
    found = next((bank for bank in banks(evidence) if battery in [view.name for view in bank.batteries]), None)
    return found is not None and _speaks(evidence, found)


def _speaks(evidence: Evidence, bank: Bank) -> bool:
    return not (bank.has_board or bank.disconnects) and bool(never_ending(evidence, bank))
