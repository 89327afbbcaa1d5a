"""How full a battery is, as a builder writes it: `30 %` of what it holds, or the voltage it shows."""

from ..quantity.show import show
from .bounds import bounds_of, check_bounds
from .declare import Field
from .electrical import each
from .forms import number_in
from .guess import quoted
from .nodes import Node, Scalar, entries_of, text_of
from .pieces import Level, ShedStep
from .problems import refuse

EXPECTED = "a share of what it holds such as 30 %, or a voltage such as 24.6 V"
_SHED = "{3: 50 %, 2: 30..45 %}"
BACK_FRACTION = 0.1  # above where it goes off, a group comes back, unless the file says where
BACK_VOLTS = 1.02  # the same of a voltage: half a volt at 24 V
_MOST_PRIORITY = 9


def level(node: Node, label: str, field: Field) -> Level:
    """A share of what it holds, or a voltage."""
    words = text_of(node, label, EXPECTED, "30 %")
    return _level(words, _unit_of(words), node, label)


def _unit_of(words: str) -> str:
    return "voltage" if words.rstrip()[-1:] in ("V", "v") else "share"


def _level(words: str, unit: str, node: Node, label: str) -> Level:
    value = number_in(words, unit, node, label)
    check_bounds(value, unit, bounds_of("0..1" if unit == "share" else "", unit), label, node)
    return Level(value, unit)


def shed(node: Node, label: str, field: Field) -> tuple[ShedStep, ...]:
    """Priority: where it goes off, or off..on; least important first."""
    entries = entries_of(node, label, f"{label}: {_SHED}")
    if not entries:
        refuse(node.place, f"{label} is empty", "a priority and where it goes off", f"write {label}: {_SHED}")
    steps = sorted(each(entries.values(), lambda entry: _step(entry, label)), key=lambda step: -step.priority)
    for later, sooner in zip(steps[1:], steps, strict=False):
        if later.off.unit != sooner.off.unit:
            refuse(node.place, f"{label} mixes shares and voltages", "all as shares, or all as voltages",
                   f"write {label}: {_SHED}")  # fmt: skip
        if later.off.value >= sooner.off.value:
            refuse(
                node.place,
                f"{label}: priority {later.priority} goes off at {_shown(later.off)}, not below the less important "
                f"{sooner.priority} at {_shown(sooner.off)}",
                "what matters less goes first, at a fuller battery",
                f"exchange the two: 1 is the last to go, {sooner.priority} goes before {later.priority}",
            )
    return tuple(steps)


def _shown(found: Level) -> str:
    return show(found.value, found.unit)


def _step(entry: tuple[Scalar, Node], label: str) -> ShedStep:
    key, value = entry
    if not key.text.isdigit() or not 1 <= int(key.text) <= _MOST_PRIORITY:
        refuse(
            key.place,
            f"{label}: {quoted(key.text)} is not a priority",
            f"a whole number from 1, the last to go, to {_MOST_PRIORITY}",
            f"write {label}: {_SHED}",
        )
    name = f"{label}, priority {key.text}"
    words = text_of(value, name, f"{EXPECTED}, or where it goes off..on", "30..45 %")
    low, dots, high = words.partition("..")
    unit = _unit_of(words)
    if not dots:
        off = _level(words, unit, value, name)
        back = off.value * BACK_VOLTS if unit == "voltage" else min(off.value + BACK_FRACTION, 1.0)
        return ShedStep(int(key.text), off, Level(back, unit))
    sign = "" if low.strip()[-1:] in "%Vv" else " V" if unit == "voltage" else " %"
    off, on = _level(low.strip() + sign, unit, value, name), _level(high.strip(), unit, value, name)
    if on.value <= off.value:
        refuse(
            value.place,
            f"{name} comes back at {_shown(on)}, not above where it goes off ({_shown(off)})",
            "off..on, the second one higher",
            "exchange the two numbers",
        )
    return ShedStep(int(key.text), off, on)
