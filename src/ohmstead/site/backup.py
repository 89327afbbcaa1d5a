"""Sense of a charger that starts by itself when the battery is low."""

from ..quantity.show import show
from .drafts import Draft, Reading

_KEYS = {
    "starts_at": "starts at",
    "stops_at": "stops at",
    "least_run_s": "least run",
    "fuel_l_per_h": "fuel",
    "idle_fuel_l_per_h": "idle fuel",
}


def check_no_backup(draft: Draft, reading: Reading) -> None:
    """The sun needs no starting."""
    for attribute, key in _KEYS.items():
        if attribute in draft.nodes:
            reading.tell(
                draft.place_of(attribute),
                f"{draft.label} is driven by the sun and has {key}",
                f"{key} for a charger with from: generator or from: mains",
                f"leave {key} out",
            )


def check_backup(draft: Draft, reading: Reading) -> None:
    """Start and stop belong together, and fuel to a generator."""
    start, stop = draft.value("starts_at"), draft.value("stops_at")
    for attribute, key in _KEYS.items():
        if attribute in draft.nodes and "starts_at" not in draft.nodes:
            reading.tell(
                draft.place_of(attribute),
                f"{draft.label} has {key} and never starts",
                "starts at, beside it",
                f"add starts at: 30 %, or leave {key} out",
            )
            return
    if "starts_at" in draft.nodes and "stops_at" not in draft.nodes:
        reading.tell(
            draft.place_of("starts_at"),
            f"{draft.label} starts and is not told when to stop",
            "stops at, beside it",
            "add stops at: 90 %",
        )
    if start is not None and stop is not None and (start.unit != stop.unit or stop.value <= start.value):
        reading.tell(
            draft.place_of("stops_at"),
            f"{draft.label} starts at {show(start.value, start.unit)} and stops at {show(stop.value, stop.unit)}",
            "both as shares or both as voltages, the second one higher",
            "write starts at: 30 %, stops at: 90 %, with the figures of your source",
        )
    full, idle = draft.value("fuel_l_per_h"), draft.value("idle_fuel_l_per_h")
    if idle is not None and (full is None or idle >= full):
        reading.tell(
            draft.place_of("idle_fuel_l_per_h"),
            f"{draft.label} burns {show(idle, 'fuel flow')} while it gives nothing, "
            + ("and fuel is not stated" if full is None else f"and {show(full, 'fuel flow')} while it gives its most"),
            "fuel above idle fuel",
            "state both, such as fuel: 0.6 l/h, idle fuel: 0.25 l/h",
        )
    if full is not None and draft.value("supply") == "mains":
        reading.tell(
            draft.place_of("fuel_l_per_h"),
            f"{draft.label} is driven by the mains and burns fuel",
            "fuel for a charger with from: generator",
            "leave fuel out, or write from: generator",
        )
