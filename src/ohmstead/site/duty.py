"""When a device is in which state: windows of the clock, the dark, hours a day, now and then."""

import re

from .declare import Field
from .electrical import each
from .forms import number_in
from .guess import quoted
from .nodes import Node, Scalar, Sequence, entries_of, text_of
from .pieces import Draw, DutyEntry
from .problems import refuse

EXPECTED = "03:30-09:30, dusk..dawn, dawn..dusk, 2 h a day, now and then, always, or rest"
_EXAMPLE = "{recording: 03:30-09:30, idle: rest}"
_CLOCK = r"([0-9]{1,2}):([0-9]{2})\s*(?:-|–|\.\.)\s*([0-9]{1,2}):([0-9]{2})"
_DARK = r"dusk\s*(?:-|–|\.\.)\s*dawn"
_LIGHT = r"dawn\s*(?:-|–|\.\.)\s*dusk"
_WORDS = {"rest": "rest", "now and then": "any", "always": "clock", "dusk..dawn": "dark", "dawn..dusk": "light"}
_DAILY = r"(.*\S)\s+(?:a|per)\s+day"
_WEEKDAY = r"(?i)\b(?:mon|tue|wed|thu|fri|sat|sun|week)(?:s?day)?s?\b"


def duty(node: Node, label: str, field: Field) -> tuple[DutyEntry, ...]:
    """One time for a device with one state, or a time for each state. A bare time has the state ""."""
    if isinstance(node, Scalar | Sequence):
        found = _times("", node, label)
        if found[0].kind == "rest":
            refuse(
                node.place,
                f"{label}: 'rest' needs other states to rest from",
                EXPECTED,
                f"write {label}: always",
            )
        return tuple(found)
    entries = entries_of(node, label, f"{label}: {_EXAMPLE}")
    if not entries:
        refuse(node.place, f"{label} is empty", EXPECTED, f"write {label}: {_EXAMPLE}, or leave the key out")
    rows = each(entries.items(), lambda entry: _times(entry[0], entry[1][1], f"{label}, {entry[0]}"))
    resting = [row[0].state for row in rows if row[0].kind == "rest"]
    if len(resting) > 1:
        refuse(
            node.place,
            f"{label}: {quoted(resting[0])} and {quoted(resting[1])} are both 'rest'",
            "one state for the rest of the time",
            "say when the other one happens",
        )
    return tuple(entry for row in rows for entry in row)


def _times(state: str, node: Node, label: str) -> list[DutyEntry]:
    """Every window of one state."""
    if isinstance(node, Sequence):
        if not node.items:
            refuse(node.place, f"{label} is an empty list", EXPECTED, f"write {label}: always")
        return each(node.items, lambda item: _time(state, text_of(item, label, EXPECTED, "always"), item, label))
    words = text_of(node, label, EXPECTED, "03:30-09:30")
    return [_time(state, piece.strip(), node, label) for piece in words.split(",")]


def _time(state: str, words: str, node: Node, label: str) -> DutyEntry:
    if words in _WORDS:
        return DutyEntry(state, _WORDS[words])
    if words[:1].isdigit():
        clock = re.fullmatch(_CLOCK, words)
        if clock:
            return _clock(state, [int(group) for group in clock.groups()], node, label)
    elif re.fullmatch(_DARK, words):
        return DutyEntry(state, "dark")
    elif re.fullmatch(_LIGHT, words):
        return DutyEntry(state, "light")
    daily = re.fullmatch(_DAILY, words)
    if daily:
        return _daily(state, daily[1], node, label)
    if re.search(_WEEKDAY, words):
        refuse(
            node.place,
            f"{label}: days of the week are not read by this version yet",
            EXPECTED,
            "state the times of the busiest day",
        )
    mend = f"write {label}: {_EXAMPLE}" if not state else f"write {state}: 03:30-09:30, or {state}: now and then"
    if ("dusk" in words) != ("dawn" in words) and ":" in words:
        mend = "write dusk..dawn, or both ends as times of the clock"
    refuse(node.place, f"{label}: {quoted(words)} is not a time", EXPECTED, mend)


def _clock(state: str, figures: list[int], node: Node, label: str) -> DutyEntry:
    start, end = figures[0] * 60 + figures[1], figures[2] * 60 + figures[3]
    if figures[1] > 59 or figures[3] > 59 or start > 24 * 60 or end > 24 * 60:
        refuse(
            node.place,
            f"{label}: this clock has no such time",
            "times from 00:00 to 24:00",
            "write 03:30-09:30",
        )
    if start == end:
        refuse(
            node.place,
            f"{label}: this window has no length",
            "two different times",
            "write always if the whole day is meant",
        )
    return DutyEntry(state, "clock", start / 60, end / 60)


def _daily(state: str, words: str, node: Node, label: str) -> DutyEntry:
    hours = number_in(words, "time", node, label) / 3600
    if not 0 < hours <= 24:
        refuse(
            node.place,
            f"{label}: a day does not have {hours:g} h",
            "above zero and at most 24 h a day",
            "write 2 h a day",
        )
    return DutyEntry(state, "daily hours", hours=hours)


def settle(entries: tuple[DutyEntry, ...], draws: tuple[Draw, ...], node: Node) -> tuple[DutyEntry, ...]:
    """Gives bare times their state and checks the states against the draws. Raises Refusal.

    A bare `now and then` means any lasting state; another bare time needs a device with one state.
    """
    states = [draw.state for draw in draws]
    lasting = [draw.state for draw in draws if draw.seconds is None] or states
    if entries and not entries[0].state:
        if entries[0].kind == "any":
            return tuple(DutyEntry(state, "any") for state in lasting)
        if len(lasting) > 1:
            refuse(
                node.place,
                "duty does not say which state is meant",
                "a time for each state",
                f"write duty: {{{lasting[-1]}: {text_of(node, 'duty', '', '')}, {lasting[0]}: rest}}"
                if isinstance(node, Scalar)
                else f"write duty: {_EXAMPLE}",
            )
        return tuple(DutyEntry(lasting[0], e.kind, e.start_h, e.end_h, e.hours) for e in entries)
    _check_overlap(entries, node)
    return entries


def _check_overlap(entries: tuple[DutyEntry, ...], node: Node) -> None:
    """Two states cannot hold at the same time of the clock."""
    pieces: list[tuple[float, float, str]] = []
    for entry in entries:
        if entry.kind == "clock" and entry.end_h > entry.start_h:
            pieces.append((entry.start_h, entry.end_h, entry.state))
        elif entry.kind == "clock":
            pieces += [(entry.start_h, 24.0, entry.state), (0.0, entry.end_h, entry.state)]
    pieces.sort()
    for number, (start_h, end_h, state) in enumerate(pieces):
        for earlier in pieces[:number]:
            if earlier[2] == state or earlier[1] <= start_h:
                continue
            longer = state if end_h - start_h > earlier[1] - earlier[0] else earlier[2]
            minute = round(start_h * 60)
            refuse(
                node.place,
                f"duty: {quoted(earlier[2])} and {quoted(state)} both hold at {minute // 60:02d}:{minute % 60:02d}",
                "one state at a time",
                f"write {longer}: rest for the time that is left, or part the windows",
            )
