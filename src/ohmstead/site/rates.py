"""What a battery gives at three rates, as a data sheet tells it: `{5 h: 83 Ah, 20 h: 100 Ah, 100 h: 112 Ah}`."""

from ..quantity.show import show
from .bounds import bounds_of, check_bounds
from .declare import Field
from .electrical import each
from .forms import number_in, words_of
from .nodes import Node, Scalar, entries_of
from .problems import refuse

EXAMPLE = "{5 h: 83 Ah, 20 h: 100 Ah, 100 h: 112 Ah}"
N_RATE = 3


def rates(node: Node, label: str, field: Field) -> tuple[tuple[float, float], ...]:
    """Hours in which it is emptied -> charge it gives in them, three of them, the shortest time first. [h, Ah]"""
    entries = entries_of(node, label, f"{label}: {EXAMPLE}")
    found: list[tuple[float, float]] = sorted(each(entries.values(), lambda entry: _rate(entry, label)))
    if len({hours for hours, _ in found}) != N_RATE or len(found) != N_RATE:
        refuse(node.place, f"{label} names {len(found)} times", "three times", f"write {label}: {EXAMPLE}")
    for (short_h, less_ah), (long_h, more_ah) in zip(found, found[1:], strict=False):
        if more_ah <= less_ah:
            times = f"{show(long_h * 3600.0, 'time')} and {show(short_h * 3600.0, 'time')}"
            refuse(
                node.place,
                f"{label}: {show(more_ah, 'charge')} and {show(less_ah, 'charge')} in {times}",
                "more charge in a longer time",
                "check the numbers; the charge of the whole discharge is meant, not the current",
            )
    return tuple(found)


def _rate(entry: tuple[Scalar, Node], label: str) -> tuple[float, float]:
    key, node = entry
    seconds = number_in(key.text, "time", key, f"{label}, time")
    check_bounds(seconds, "time", bounds_of("", "time"), f"{label}, time", key)
    charge = number_in(words_of(node, label, "charge"), "charge", node, label)
    check_bounds(charge, "charge", bounds_of("", "charge"), label, node)
    return seconds / 3600.0, charge
