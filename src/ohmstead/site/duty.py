"""When a device is in which state: windows of the clock, the dark, hours a day, the air, by chance."""

import re
from dataclasses import replace

from ..quantity.faults import QuantityError
from ..quantity.read import read_number
from .calendar import days_of, months_of
from .declare import Field
from .electrical import each
from .forms import number_in
from .guess import quoted
from .nodes import Mapping, Node, Scalar, Sequence, entries_of, text_of
from .pieces import Draw, DutyEntry
from .problems import refuse

EXPECTED = "03:30-09:30, dusk..dawn, dawn..dusk, 2 h a day, now and then, always, or rest"
_EXAMPLE = "{recording: 03:30-09:30, idle: rest}"
_BY_AIR = "{5 °C: 15 %, 35 °C: 60 %}"
_CLOCK = r"([0-9]{1,2}):([0-9]{2})\s*(?:-|–|\.\.)\s*([0-9]{1,2}):([0-9]{2})"
_DARK = r"dusk\s*(?:-|–|\.\.)\s*dawn"
_LIGHT = r"dawn\s*(?:-|–|\.\.)\s*dusk"
_WORDS = {"rest": "rest", "now and then": "any", "always": "clock", "dusk..dawn": "dark", "dawn..dusk": "light"}
_DAILY = r"(.*?\S)\s+(?:a|per)\s+day((?:\s+at random)?)(?:\s+between\s+(.*\S))?((?:\s+at random)?)"
_LIMITED = r"(.*?\S)(?:\s+on\s+(.*?\S))?(?:\s+in\s+(.*\S))?"
_WEEKDAY = r"(?i)^(?:mon|tue|wed|thu|fri|sat|sun|week)"
_MOST_POINTS = 50


def duty(node: Node, label: str, field: Field) -> tuple[DutyEntry, ...]:
    """One time for a device with one state, or a time for each state. A bare time has the state ""."""
    if isinstance(node, Scalar | Sequence) or _is_by_air(node):
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


def _is_by_air(node: Node) -> bool:
    """Does a mapping begin with a temperature? Otherwise it names states."""
    if not isinstance(node, Mapping) or not node.entries:
        return False
    first = next(iter(node.entries))
    if not re.search(r"[0-9]\s*(?:°|º|deg)?\s*[CFK]$", first):
        return False
    try:
        read_number(first, "temperature")
    except QuantityError:
        return False
    return True


def _times(state: str, node: Node, label: str) -> list[DutyEntry]:
    """Every window of one state."""
    if isinstance(node, Mapping):
        return [DutyEntry(state, "air", points=_points(node, label))]
    if isinstance(node, Sequence):
        if not node.items:
            refuse(node.place, f"{label} is an empty list", EXPECTED, f"write {label}: always")
        return each(node.items, lambda item: _time(state, text_of(item, label, EXPECTED, "always"), item, label))
    words = text_of(node, label, EXPECTED, "03:30-09:30")
    return [_time(state, piece.strip(), node, label) for piece in words.split(",")]


def _points(node: Mapping, label: str) -> tuple[tuple[float, float], ...]:
    """Share of the time over temperature of the air, coldest first."""
    if not 2 <= len(node.entries) <= _MOST_POINTS:
        refuse(
            node.place,
            f"{label} has {len(node.entries)} temperature{'' if len(node.entries) == 1 else 's'}",
            f"a share of the time at two temperatures or more, at most {_MOST_POINTS}",
            f"write {label}: {_BY_AIR}",
        )

    def one(entry: tuple[Scalar, Node]) -> tuple[float, float]:
        key, value = entry
        air_c = number_in(key.text, "temperature", key, f"{label}, air")
        words = text_of(value, f"{label} at {key.text}", "a share of the time such as 60 %", "60 %")
        share = number_in(words, "share", value, f"{label} at {key.text}")
        if not 0.0 <= share <= 1.0:
            refuse(
                value.place,
                f"{label} at {key.text}: nothing runs {100 * share:g} % of the time",
                "from 0 % to 100 %",
                "check the number",
            )
        return air_c, share

    points = tuple(sorted(each(node.entries.values(), one)))
    if len({air_c for air_c, _ in points}) < len(points):
        refuse(node.place, f"{label} names one temperature twice", "each temperature once", "remove one of the two")
    return points


def _time(state: str, words: str, node: Node, label: str) -> DutyEntry:
    if words in _WORDS:
        return DutyEntry(state, _WORDS[words])
    limited = re.fullmatch(_LIMITED, words)
    if limited and (limited[2] or limited[3]) and limited[1] not in ("rest", "now and then"):
        bare = _time(state, limited[1], node, label)
        days = days_of(limited[2], node, label) if limited[2] else ()
        return replace(bare, days=days, months=months_of(limited[3], node, label) if limited[3] else ())
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
        return _daily(state, daily, node, label)
    mend = f"write {label}: {_EXAMPLE}" if not state else f"write {state}: 03:30-09:30, or {state}: now and then"
    if re.search(_WEEKDAY, words):
        mend = f"write the time first and the days behind it: {_turned(words)}"
    if ("dusk" in words) != ("dawn" in words) and ":" in words:
        mend = "write dusk..dawn, or both ends as times of the clock"
    refuse(node.place, f"{label}: {quoted(words)} is not a time", EXPECTED, mend)


def _turned(words: str) -> str:
    """ "mon-fri 06:00-06:30" as it is to be written."""
    days, _, rest = words.partition(" ")
    return f"{rest.strip() or '06:00-18:00'} on {days}"


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


def _daily(state: str, found: "re.Match[str]", node: Node, label: str) -> DutyEntry:
    hours = number_in(found[1], "time", node, label) / 3600
    if not 0 < hours <= 24:
        refuse(
            node.place,
            f"{label}: a day does not have {hours:g} h",
            "above zero and at most 24 h a day",
            "write 2 h a day",
        )
    kind = "random" if found[2] or found[4] else "daily hours"
    if not found[3]:
        return DutyEntry(state, kind, hours=hours)
    clock = re.fullmatch(_CLOCK, found[3])
    if clock is None:
        refuse(
            node.place,
            f"{label}: {quoted(found[3])} is not a window of the clock",
            "two times, such as 07:00-22:00",
            f"write {hours:g} h a day between 07:00-22:00",
        )
    window = _clock(state, [int(group) for group in clock.groups()], node, label)
    length = (window.end_h - window.start_h) % 24 or 24.0
    if hours > length:
        refuse(
            node.place,
            f"{label}: {hours:g} h a day do not fit between {found[3]}",
            f"at most {length:g} h a day in this window",
            "check both, or leave the window out",
        )
    return replace(window, kind=kind, hours=hours)


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
        return tuple(replace(entry, state=lasting[0]) for entry in entries)
    _check_overlap(entries, node)
    return entries


def _meet(one: DutyEntry, other: DutyEntry) -> bool:
    """Is there a day on which both may hold?"""
    days = not one.days or not other.days or bool(set(one.days) & set(other.days))
    months = not one.months or not other.months or bool(set(one.months) & set(other.months))
    return days and months


def _check_overlap(entries: tuple[DutyEntry, ...], node: Node) -> None:
    """Two states cannot hold at the same time of the clock."""
    pieces: list[tuple[float, float, DutyEntry]] = []
    for entry in entries:
        if entry.kind == "clock" and entry.end_h > entry.start_h:
            pieces.append((entry.start_h, entry.end_h, entry))
        elif entry.kind == "clock":
            pieces += [(entry.start_h, 24.0, entry), (0.0, entry.end_h, entry)]
    pieces.sort(key=lambda piece: (piece[0], piece[1], piece[2].state))
    for number, (start_h, end_h, entry) in enumerate(pieces):
        for earlier in pieces[:number]:
            if earlier[2].state == entry.state or earlier[1] <= start_h or not _meet(earlier[2], entry):
                continue
            longer = entry.state if end_h - start_h > earlier[1] - earlier[0] else earlier[2].state
            minute, first, second = round(start_h * 60), quoted(earlier[2].state), quoted(entry.state)
            refuse(
                node.place,
                f"duty: {first} and {second} both hold at {minute // 60:02d}:{minute % 60:02d}",
                "one state at a time",
                f"write {longer}: rest for the time that is left, or part the windows",
            )
