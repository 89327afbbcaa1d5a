"""Readers of what a run is made of: its ends, wire, cable, fuse, plugs, and how it is laid."""

from collections.abc import Callable
from typing import Any

from ..parts.cable import EthernetCable, read_ethernet_cable
from ..parts.faults import PartError
from ..parts.fuse import Fuse, read_fuse
from ..parts.plug import End, read_end
from ..parts.wire import Wire, read_wire
from .bounds import bounds_of, check_bounds
from .declare import Field
from .electrical import each
from .forms import number_in, said
from .guess import did_you_mean, listed, quoted
from .nodes import Node, Scalar, items_of, text_of
from .pieces import Endpoint, Height, LaidAs
from .problems import Problem, Refusal, refuse

_HEIGHTS = ("low", "middle", "high")
METHODS = ("free air", "clipped", "in conduit", "in trunking", "bundled")


def _part(node: Node, label: str, read: Callable[[str], Any], example: str) -> Any:
    words = text_of(node, label, f"text such as {example}", example)
    try:
        return read(words)
    except PartError as fault:
        raise Refusal(Problem(node.place, said(label, fault.problem), fault.expected, fault.mend)) from None


def wire(node: Node, label: str, field: Field) -> Wire:
    """A conductor."""
    found: Wire = _part(node, label, read_wire, "2.5 mm2")
    return found


def ethernet_cable(node: Node, label: str, field: Field) -> EthernetCable:
    """A network cable."""
    found: EthernetCable = _part(node, label, read_ethernet_cable, "Cat5e 24 AWG")
    return found


def fuse(node: Node, label: str, field: Field) -> Fuse:
    """A fuse or breaker."""
    found: Fuse = _part(node, label, read_fuse, "10 A blade")
    return found


def end(node: Node, label: str, field: Field) -> End:
    """A plug, socket or terminal."""
    found: End = _part(node, label, read_end, "barrel 5.5x2.1 centre positive")
    return found


def ends(node: Node, label: str, field: Field) -> tuple[End | None, ...]:
    """Both ends of a run, source end first; None for one that is left open with `choose`."""
    items = items_of(node, label, f"{label}: [ferrule, ring M8]")
    if len(items) != 2:
        refuse(
            node.place,
            f"{label} names {len(items)} of two ends",
            "two, the source end first",
            f"write {label}: [ferrule, ring M8]",
        )
    named = zip(("source end", "far end"), items, strict=True)
    return tuple(each(named, lambda pair: _end_or_open(pair[1], f"{label}, {pair[0]}", field)))


def _end_or_open(node: Node, label: str, field: Field) -> End | None:
    return None if isinstance(node, Scalar) and node.text == "choose" else end(node, label, field)


def endpoint(node: Node, label: str, field: Field) -> Endpoint:
    """One end of a run: a part, or `part / way`."""
    words = text_of(node, label, "the name of a part, or part / way", "fuse block / 3")
    part, slash, way = words.rpartition(" / ")
    if not slash:
        return Endpoint(words)
    if not (way.isascii() and way.isdigit()) or not 1 <= int(way[:9]) <= 9999:
        refuse(
            node.place,
            f"{label}: {quoted(way)} is not the number of a way",
            "part / way, ways counted from 1",
            f"write {label}: {part} / 1",
        )
    return Endpoint(part.strip(), int(way))


def laid(node: Node, label: str, field: Field) -> LaidAs:
    """How a run is laid; `with 5` means five loaded circuits side by side in all, this one counted."""
    words = text_of(node, label, "a way of laying", "in trunking with 5")
    method, counted, many = words.partition(" with ")
    method, many = method.strip(), many.strip()
    if method not in METHODS:
        refuse(
            node.place,
            f"{label}: {quoted(method)} is not a way of laying",
            "one of: " + ", ".join(METHODS),
            did_you_mean(method, METHODS, f"write {label}: in trunking with 5"),
        )
    if not counted:
        if method == "bundled":
            refuse(
                node.place,
                f"{label}: bundled with how many?",
                "bundled with a number of circuits",
                f"write {label}: bundled with 3, this run counted",
            )
        return LaidAs(method)
    if not (many.isascii() and many.isdigit()) or not 1 <= int(many[:9]) <= 200:
        refuse(
            node.place,
            f"{label}: {quoted(many)} is not a number of circuits",
            "1 to 200, this run counted",
            f"write {label}: {method} with 3",
        )
    return LaidAs(method, int(many))


def height(node: Node, label: str, field: Field) -> Height:
    """A word, or how far above the floor of the box."""
    words = text_of(node, label, f"one of {listed(_HEIGHTS)}, or a height", "high")
    if words in _HEIGHTS:
        return Height(words)
    if words[0] not in "0123456789.,":
        refuse(
            node.place,
            f"{label} cannot be {quoted(words)}",
            f"one of: {listed(_HEIGHTS)}, or a height above the floor of the box such as 0.3 m",
            did_you_mean(words, _HEIGHTS, f"write {label}: high"),
        )
    height_m = number_in(words, "length", node, label)
    check_bounds(height_m, "length", bounds_of("0 or more", "length"), label, node)
    return Height("", height_m)
