"""Battery chemistries: resting voltage by state of charge, resistance, limits, all for one cell."""

from dataclasses import dataclass
from functools import cache
from typing import Any

from .faults import PartError
from .words import like
from .yaml_data import part_file, part_words

Points = tuple[tuple[float, float], ...]
NEARLY_EMPTY = 0.1  # state of charge at which a nearly empty cell is taken


@dataclass(frozen=True, slots=True)
class Habits:
    """What a cell does over hours.

    `by_state` pairs state of charge with the factor on its resistance. `taper_h` is the time constant with which the
    current dies away at the charging voltage, none where two wells make it; `passed_fraction` what is lost of what
    enters, resistance left out; `rests_fraction` what is gone of what it holds after a month. `cold_charge` pairs a
    temperature with the current over capacity allowed from there up. `by_hours` pairs hours with the share of the
    stated capacity had in them, `cold_capacity` temperature with such a share; both are empty for one that gives all.
    `float_years` at 20 °C and `cycles_by_depth` tell the life of lead; lithium has laws of its own.
    """

    by_state: Points
    taper_h: float
    passed_fraction: float
    rests_fraction: float
    cold_charge: Points
    by_hours: Points
    cold_capacity: Points
    float_years: float
    cycles_by_depth: Points


@dataclass(frozen=True, slots=True)
class Chemistry:
    """One cell. Resistances in Ω·Ah scale with capacity: cell Ω = value / capacity.

    `least` holds for a fresh cell at 1 kHz (largest fault), `usual` for 10 s of direct current, `most`
    for an old one (smallest fault). `resting` pairs state of charge (0..1) with the resting voltage;
    `full_v` is rested, an hour after charging; `empty_v` is the lowest it may be drawn to.
    """

    name: str
    title: str
    resting: Points
    resting_source: str
    resting_read: str
    nominal_v: float
    full_v: float
    empty_v: float
    charging_v: float
    equalising_v: float | None
    volts_source: str
    volts_read: str
    least_ohm_ah: float
    usual_ohm_ah: float
    most_ohm_ah: float
    link_least_ohm: float
    link_usual_ohm: float
    link_most_ohm: float
    cold: Points
    habits: Habits
    resistance_source: str
    resistance_read: str
    discharge_c: float
    charge_c: float


@cache
def chemistry(name: str) -> Chemistry:
    """The chemistry of that name: "LFP", "NMC", "lead flooded", "lead AGM". Raises PartError."""
    file = _file(name)
    data = part_file("cells", file)
    volts, resistance, link = data["volts"], data["resistance"], data["link_mohm"]
    return Chemistry(
        name=data["words"][0],
        title=data["title"],
        resting=_points(data["resting"]["points"]),
        resting_source=data["resting"]["source"],
        resting_read=data["resting"]["read"],
        nominal_v=volts["nominal"],
        full_v=volts["full"],
        empty_v=volts["empty"],
        charging_v=volts["charging"],
        equalising_v=volts["equalising"],
        volts_source=volts["source"],
        volts_read=volts["read"],
        least_ohm_ah=resistance["least"],
        usual_ohm_ah=resistance["usual"],
        most_ohm_ah=resistance["most"],
        link_least_ohm=link["least"] * 1e-3,
        link_usual_ohm=link["usual"] * 1e-3,
        link_most_ohm=link["most"] * 1e-3,
        cold=_points(data["cold"]["factor"]),
        habits=_habits(data),
        resistance_source=resistance["source"],
        resistance_read=resistance["read"],
        discharge_c=data["protection"]["discharge_c"],
        charge_c=data["protection"]["charge_c"],
    )


def _habits(data: dict[str, Any]) -> Habits:
    charging = data["charging"]
    return Habits(
        by_state=_points(data["by_state"]["factor"]),
        taper_h=charging["taper_h"],
        passed_fraction=charging["passed"],
        rests_fraction=charging["month"],
        cold_charge=_points(data.get("cold_charge", {}).get("rate", {})),
        by_hours=_points(data.get("by_hours", {}).get("share", {})),
        cold_capacity=_points(data.get("cold_capacity", {}).get("share", {})),
        float_years=data.get("life", {}).get("float_years", float("inf")),
        cycles_by_depth=_points(data.get("life", {}).get("cycles", {})),
    )


def chemistries() -> tuple[str, ...]:
    """The names of all chemistries."""
    return tuple(words[0] for words in part_words("cells").values())


def _file(name: str) -> str:
    """The file whose words hold the name."""
    known = part_words("cells")
    wanted = name.strip().lower().replace("_", " ")
    for file, words in known.items():
        if wanted in [word.lower() for word in words]:
            return file
    guess = like(name, [word.lower() for words in known.values() for word in words])
    raise PartError(
        f"no chemistry is called {name!r}",
        ", ".join(chemistries()),
        f"did you mean {guess}?" if guess else "LFP is the usual lithium battery",
    )


def _points(table: dict[float, float]) -> Points:
    return tuple(sorted((float(x), float(y)) for x, y in table.items()))
