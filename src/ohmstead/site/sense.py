"""Checks inside one thing: values that are fine alone and wrong together."""

from collections.abc import Callable

from ..quantity.show import show
from .backup import check_backup, check_no_backup
from .drafts import CHOOSE, Draft, Reading
from .duty import settle
from .guess import did_you_mean, listed, quoted
from .kinds import Charger, Converter, Device, Disconnect
from .model import Battery, Run
from .nodes import Mapping
from .place import Origin
from .problems import Refusal

_OF_ARRAYS = {
    "arrays": "array",
    "type": "type",
    "night_w": "night draw",
    "array_limit_v": "most input voltage",
    "array_limit_a": "most input current",
}


def check_sense(draft: Draft, reading: Reading) -> None:
    """Runs the checks of the draft's class."""
    check = _CHECKS.get(draft.cls)
    if check is not None and isinstance(draft.node, Mapping):
        check(draft, reading)


def _battery(draft: Draft, reading: Reading) -> None:
    if "cells" not in draft.nodes and "voltage_v" not in draft.nodes:
        reading.tell(
            draft.place,
            f"{draft.label} says neither cells nor voltage: every voltage comes from it",
            "the number of cells in series, or the nominal voltage",
            "add cells: 8, or voltage: 12 V",
        )
    if draft.value("by_hours") and not str(draft.value("chemistry") or "").startswith("lead"):
        reading.tell(
            draft.place_of("by_hours"),
            f"{draft.label} is not of lead and has capacity by hours",
            "capacity by hours for a lead battery; others give the same at any rate within their limits",
            "leave it out, or state chemistry: lead AGM or lead flooded",
        )
    cutoff, charging, equalising = (draft.value(name) for name in ("cutoff_v", "charging_v", "equalising_v"))
    if cutoff and charging and charging <= cutoff:
        reading.tell(
            draft.place_of("charging_v"),
            f"charging at {show(charging, 'voltage')} does not lie above the cut-off at {show(cutoff, 'voltage')}",
            "charging above cut-off",
            "check the two numbers",
        )
    if charging and equalising and equalising < charging:
        reading.tell(
            draft.place_of("equalising_v"),
            f"equalising at {show(equalising, 'voltage')} lies below charging at {show(charging, 'voltage')}",
            "equalising at or above charging",
            "check the two numbers",
        )


def _disconnect(draft: Draft, reading: Reading) -> None:
    off, on = draft.value("off_v"), draft.value("on_v")
    if off and on and on < off:
        reading.tell(
            draft.place_of("on_v"),
            f"{draft.label} closes again at {show(on, 'voltage')}, below where it opens ({show(off, 'voltage')})",
            "`on` at or above `off`",
            "exchange the two numbers",
        )


def _charger(draft: Draft, reading: Reading) -> None:
    """What concerns an array is taken for granted only for a charger that has one."""
    if "arrays" not in draft.nodes:
        for attribute in ("type", "night_w", "efficiency"):
            if attribute not in draft.nodes:
                draft.origin[attribute] = Origin("missing")
    if draft.value("supply") == "sun":
        check_no_backup(draft, reading)
        return
    check_backup(draft, reading)
    for attribute, key in _OF_ARRAYS.items():
        if attribute in draft.nodes:
            reading.tell(
                draft.place_of(attribute),
                f"{draft.label} has {key} and is not driven by the sun",
                f"{key} for a charger with from: sun",
                f"leave {key} out, or write from: sun",
            )


def _converter(draft: Draft, reading: Reading) -> None:
    if "full_until_c" not in draft.values and "nothing_at_c" not in draft.values:
        return
    full, nothing = draft.values.get("full_until_c", 50.0), draft.values.get("nothing_at_c", 85.0)
    if nothing <= full:
        told = "nothing_at_c" if "nothing_at_c" in draft.values else "full_until_c"
        reading.tell(
            draft.place_of(told),
            f"{draft.label} gives its full power up to {full:g} °C and nothing at {nothing:g} °C",
            "`nothing at` above `full until`",
            "state both, such as full until: 50 °C, nothing at: 85 °C",
        )


def _device(draft: Draft, reading: Reading) -> None:
    draws, duty = draft.value("draws"), draft.value("duty")
    if not draws or not duty:
        return
    node = draft.nodes["duty"]
    states = [draw.state for draw in draws]
    unknown = [entry.state for entry in duty if entry.state and entry.state not in states]
    for state in dict.fromkeys(unknown):
        place = node.entries[state][0].place if isinstance(node, Mapping) and state in node.entries else node.place
        reading.tell(
            place,
            f"duty names the state {quoted(state)}, which draws does not have",
            f"one of: {listed(states)}",
            did_you_mean(state, states, f"add {state} to draws: {{{state}: 10 W}}"),
        )
    if unknown:
        return
    try:
        draft.values["duty"] = settle(duty, draws, node)
    except Refusal as refusal:
        reading.add(*refusal.problems)


def _run(draft: Draft, reading: Reading) -> None:
    nodes = draft.nodes
    if "wire" in nodes and "cable" in nodes:
        reading.tell(
            draft.place_of("cable"),
            f"{draft.label} has both a wire and a cable",
            "one of the two",
            "keep wire for two-wire cable, cable for network cable",
        )
    if "wire" not in nodes and "cable" not in nodes and draft.value("carries") != "data":
        reading.tell(
            draft.place,
            f"{draft.label} has neither wire nor cable: resistance and what it may carry come from it",
            "wire: such as 2.5 mm2, or cable: such as Cat5e 24 AWG",
            f"add wire: {CHOOSE}, if you want it chosen for you",
        )
    fuse = draft.origin.get("fuse")
    if "fuse_window" in nodes and fuse is not None and fuse.how == CHOOSE:
        reading.tell(
            draft.place_of("fuse_window"),
            f"{draft.label} leaves its fuse to be chosen and states the 'fuse window' of one",
            "a fuse window beside a fuse that is named: it comes from that fuse's sheet",
            "name the fuse, or leave fuse window out",
        )
    if "fuse" not in nodes:
        for attribute, key in (
            ("fuse_at_m", "fuse at"),
            ("fuse_window", "fuse window"),
            ("holder_a", "holder"),
        ):
            if attribute in nodes:
                reading.tell(
                    draft.place_of(attribute),
                    f"{draft.label} states {quoted(key)} and has no fuse",
                    "a fuse, such as fuse: 10 A blade",
                    f"add fuse: 10 A blade, or leave {key} out",
                )
                break
    at_m, length_m = draft.value("fuse_at_m"), draft.value("length_m")
    if at_m and length_m and at_m > length_m:
        reading.tell(
            draft.place_of("fuse_at_m"),
            f"the fuse sits {show(at_m, 'length')} along a run of {show(length_m, 'length')}",
            "a distance within the run",
            "check the two lengths",
        )


_CHECKS: dict[type, Callable[[Draft, Reading], None]] = {
    Battery: _battery,
    Charger: _charger,
    Disconnect: _disconnect,
    Converter: _converter,
    Device: _device,
    Run: _run,
}
