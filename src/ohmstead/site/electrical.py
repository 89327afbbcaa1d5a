"""Readers of electrical values: draws, idle, efficiency, lockout, limits, resting voltages, fuse windows."""

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from ..quantity.show import show
from ..quantity.span import Span
from .bounds import bounds_of, check_bounds
from .declare import Field
from .forms import number_in, span_in, words_of
from .guess import did_you_mean, listed, quoted
from .nodes import Node, Scalar, entries_of, text_of
from .pieces import ChargeLimits, Draw, Idle, Lockout, OpenCircuit
from .problems import Problem, Refusal, refuse

_ANY_POWER = bounds_of("0 or more", "power")
_VOLTAGE = bounds_of("", "voltage")
_CURRENT = r"[0-9.,\s]*[0-9]\s*[mµ]?(?:A|a|amps?|amperes?)\s*"
_DRAWS = "{idle: 7 W, recording: 24 W, start-up: 55 W for 25 s}"


def power_in(words: str, node: Node, label: str) -> Span:
    """Watts, or amperes at a voltage, such as `24 W`, `0..120 W` or `0.5 A at 12 V`."""
    amount, at, voltage = words.partition(" at ")
    if at:
        current = span_in(amount, "current", node, label)
        at_v = number_in(voltage, "voltage", node, label)
        check_bounds(at_v, "voltage", _VOLTAGE, label, node)
        power_w = Span(current.low * at_v, current.nominal * at_v, current.high * at_v)
    elif amount[-1:] not in "Ww" and re.fullmatch(_CURRENT, amount):
        refuse(
            node.place,
            f"{label} is a current without its voltage",
            "watts, or amperes at a voltage",
            f"write {amount.strip()} at 12 V, with the voltage it was measured at",
        )
    else:
        power_w = span_in(amount, "power", node, label)
    check_bounds(power_w.low, "power", _ANY_POWER, label, node)
    check_bounds(power_w.high, "power", _ANY_POWER, label, node)
    return power_w


def each(entries: Iterable[Any], read: Callable[[Any], Any]) -> list[Any]:
    """Reads every entry, so that all their problems are told at once."""
    problems: list[Problem] = []
    found = []
    failed = False
    for entry in entries:
        try:
            found.append(read(entry))
        except Refusal as refusal:
            failed = True
            problems += refusal.problems
    if failed:
        raise Refusal(*problems)
    return found


def power(node: Node, label: str, field: Field) -> float:
    """One power, as watts or as amperes at a voltage. [W]"""
    return power_in(text_of(node, label, "a power", "24 W"), node, label).nominal


def draws(node: Node, label: str, field: Field) -> tuple[Draw, ...]:
    """What a device takes: one power for its only state `on`, or one for each state."""
    if isinstance(node, Scalar):
        found = [_draw("on", node, label)]
    else:
        entries = entries_of(node, label, f"{label}: {_DRAWS}")
        found = each(entries.items(), lambda entry: _draw(entry[0], entry[1][1], f"{label}, {entry[0]}"))
    if not any(draw.power_w.high > 0 for draw in found):
        refuse(
            node.place,
            f"{label} names no power above zero",
            "at least one state that draws something",
            f"write {label}: {_DRAWS}, or leave the device out",
        )
    return tuple(found)


def _draw(state: str, node: Node, label: str) -> Draw:
    if not state:
        refuse(node.place, f"{label}a state has no name", "a name before each colon", f"write {_DRAWS}")
    words = text_of(node, label, "a power, or one for each state", "24 W")
    amount, brief, duration = words.partition(" for ")
    seconds = None
    if brief:
        seconds = number_in(duration, "time", node, label)
        check_bounds(seconds, "time", bounds_of("", "time"), f"{label}, duration", node)
    return Draw(state, power_in(amount, node, label), seconds)


def idle(node: Node, label: str, field: Field) -> Idle:
    """No-load input: a power, or a current at a voltage."""
    words = text_of(node, label, "a power, or a current at a voltage", "12 mA at 25.6 V")
    found = power_in(words, node, label)
    if not found.is_exact:
        refuse(node.place, f"{label} is a range", "one value", "write the largest, such as 0.3 W or 12 mA at 25.6 V")
    at = words.partition(" at ")[2]
    return Idle(found.nominal, number_in(at, "voltage", node, label) if at else None)


def _efficiency(node: Node, label: str) -> float:
    share = number_in(words_of(node, label, "share"), "share", node, label)
    if not 0.01 <= share < 1:
        refuse(
            node.place,
            f"{label} of {show(share, 'share')} is not possible",
            "above 1 % and below 100 %",
            "check the number; output power over input power is meant",
        )
    return share


def efficiency(node: Node, label: str, field: Field) -> tuple[tuple[float, float], ...]:
    """Efficiency: one share (taken at half load), or a share for each load."""
    if isinstance(node, Scalar):
        return ((0.5, _efficiency(node, label)),)
    entries = entries_of(node, label, f"{label}: {{10 %: 0.86, 50 %: 0.94, 100 %: 0.92}}")
    if not entries:
        refuse(node.place, f"{label} is empty", "at least one point", f"write {label}: 0.93")
    points: list[tuple[float, float]] = each(entries.values(), lambda entry: _efficiency_point(entry, label))
    loads = [load for load, _ in points]
    if len(set(loads)) < len(loads):
        refuse(node.place, f"{label} names one load twice", "each load once", "remove one of the two")
    return tuple(sorted(points))


def _efficiency_point(entry: tuple[Scalar, Node], label: str) -> tuple[float, float]:
    key, node = entry
    load = number_in(key.text, "share", key, f"{label}, load")
    if not 0.001 <= load <= 1.5:
        refuse(
            key.place,
            f"{label}: a load of {show(load, 'share')} is not possible",
            "a share of the rating",
            "write the load as a share of the rating, such as 50 %: 0.94",
        )
    return load, _efficiency(node, f"{label} at {key.text}")


def keyed(
    node: Node, label: str, known: tuple[str, ...], read: Callable[[Node, str], Any], example: str
) -> dict[str, Any]:
    """The entries of a small mapping with fixed keys."""
    entries = entries_of(node, label, f"{label}: {example}")

    def one(entry: tuple[str, tuple[Scalar, Node]]) -> tuple[str, Any]:
        name, (key, value) = entry
        if name not in known:
            refuse(
                key.place,
                f"{label} has no key {quoted(name)}",
                f"only: {listed(known)}",
                did_you_mean(name, known, f"write {label}: {example}"),
            )
        return name, read(value, f"{label}, {name}")

    if not entries:
        refuse(node.place, f"{label} is empty", f"one of: {listed(known)}", f"write {label}: {example}")
    return dict(each(entries.items(), one))


def _whole(found: Mapping[str, Any], known: tuple[str, ...], node: Node, label: str, example: str) -> None:
    missing = [name for name in known if name not in found]
    if missing:
        refuse(
            node.place,
            f"{label} lacks {listed(missing)}",
            f"all of: {listed(known)}",
            f"write {label}: {example}",
        )


def _volts(node: Node, label: str) -> float:
    value = number_in(words_of(node, label, "voltage"), "voltage", node, label)
    check_bounds(value, "voltage", _VOLTAGE, label, node)
    return value


def _amperes(node: Node, label: str) -> float:
    value = number_in(words_of(node, label, "current"), "current", node, label)
    check_bounds(value, "current", bounds_of("", "current"), label, node)
    return value


def lockout(node: Node, label: str, field: Field) -> Lockout:
    """Input under-voltage lockout of a converter."""
    keys, example = ("off", "on"), "{off: 18 V, on: 19 V}"
    found = keyed(node, label, keys, _volts, example)
    _whole(found, keys, node, label, example)
    if found["on"] < found["off"]:
        refuse(
            node.place,
            f"{label} comes on at {show(found['on'], 'voltage')}, below where it goes off",
            "`on` at or above `off`",
            f"exchange the two: {{off: {show(found['on'], 'voltage')}, on: {show(found['off'], 'voltage')}}}",
        )
    return Lockout(found["off"], found["on"])


def limits(node: Node, label: str, field: Field) -> ChargeLimits:
    """What the protection board of a battery allows."""
    keys, example = (
        ("discharge", "charge", "short-trip"),
        "{discharge: 120 A, charge: 100 A, short-trip: 500 A}",
    )
    found = keyed(node, label, keys, _amperes, example)
    if found.get("short-trip", float("inf")) < found.get("discharge", 0.0):
        refuse(
            node.place,
            f"{label}: short-trip lies below the discharge limit",
            "short-trip above discharge",
            f"check the two numbers, such as {example}",
        )
    return ChargeLimits(found.get("discharge"), found.get("charge"), found.get("short-trip"))


def open_circuit(node: Node, label: str, field: Field) -> OpenCircuit:
    """Resting voltages of a battery."""
    keys, example = ("full", "nominal", "cut-off"), "{full: 27.2 V, nominal: 26.3 V, cut-off: 22 V}"
    found = keyed(node, label, keys, _volts, example)
    _whole(found, keys, node, label, example)
    if not found["full"] >= found["nominal"] >= found["cut-off"]:
        refuse(
            node.place,
            f"{label}: the voltages do not fall from full to cut-off",
            "full >= nominal >= cut-off",
            f"check the numbers, such as {example}",
        )
    return OpenCircuit(found["full"], found["nominal"], found["cut-off"])


def fuse_window(node: Node, label: str, field: Field) -> dict[float, tuple[float, float]]:
    """Melting times of a fuse: multiple of its rating -> fastest and slowest time. [s]"""
    entries = entries_of(node, label, f"{label}: {{200 %: 0.2..5 s}}")
    if not entries:
        refuse(node.place, f"{label} is empty", "at least one point", f"write {label}: {{200 %: 0.2..5 s}}")
    points: list[tuple[float, tuple[float, float]]] = each(entries.values(), lambda entry: _fuse_point(entry, label))
    found = dict(sorted(points))
    if len(found) < len(points):
        refuse(
            node.place,
            f"{label} names one current twice",
            "each multiple of the rating once",
            "remove one of the two",
        )
    return found


def _fuse_point(entry: tuple[Scalar, Node], label: str) -> tuple[float, tuple[float, float]]:
    key, node = entry
    times = number_in(key.text, "share", key, f"{label}, current")
    if not 1 <= times <= 100:
        refuse(
            key.place,
            f"{label}: {key.text} of the rating is not a melting current",
            "100 % to 10,000 %",
            f"write the current as a share of the rating, such as {label}: {{200 %: 0.2..5 s}}",
        )
    at = f"{label} at {key.text}"
    seconds = span_in(words_of(node, at, "time"), "time", node, at)
    check_bounds(seconds.low, "time", bounds_of("", "time"), at, node)
    return times, (seconds.low, seconds.high)
