"""How the texts of section plate are read: sizes and spots on paper, in millimetres."""

import re

from .bounds import bounds_of, check_bounds
from .declare import Field
from .electrical import each
from .forms import number_in
from .guess import quoted
from .nodes import Node, Scalar, Sequence, items_of, text_of
from .problems import Refusal, refuse

_TIMES = r"\s*[x×]\s*"
_UNIT = r"(.*[0-9.])\s*([^\W\d_]+)"
_FARTHEST_MM = 5000.0


def millimetres(node: Node, label: str, field: Field) -> float:
    """One length. [mm]"""
    words = text_of(node, label, "a length such as 40 mm", "40 mm")
    return _one(words, node, label, field.bounds or "0 or more")


def box(node: Node, label: str, field: Field) -> tuple[float, ...]:
    """Width x height x depth. [mm]"""
    return _product(node, label, 3, "120 x 80 x 40 mm")


def area(node: Node, label: str, field: Field) -> tuple[float, ...]:
    """Width x height. [mm]"""
    return _product(node, label, 2, "500 x 700 mm")


def spot(node: Node, label: str, field: Field) -> tuple[float, float]:
    """How far to the right and how far down, `120 mm, 80 mm` or `[120 mm, 80 mm]`. [mm]"""
    if isinstance(node, Sequence):
        pieces = [(item, text_of(item, label, "a length such as 120 mm", "120 mm")) for item in node.items]
    else:
        words = text_of(node, label, "how far right and how far down", "[120 mm, 80 mm]")
        pieces = [(node, piece) for piece in _shared_unit(re.split(r"\s*,\s*|" + _TIMES, words))]
    if len(pieces) != 2:
        mend = f"write {label}: [120 mm, 80 mm]; in braces a comma ends the value, so brackets are needed"
        refuse(node.place, f"{label} holds {len(pieces)} of two lengths", "how far to the right, how far down", mend)
    right, down = (_one(words, item, label, "0 or more") for item, words in pieces)
    return right, down


def holes(node: Node, label: str, field: Field) -> tuple[tuple[float, float], ...]:
    """Four holes by their distances, as one pair that is negative, or each hole where it is. [mm]

    A pattern `100 x 50 mm` is kept as ((-100, -50),), since its middle is known with the size of the part only.
    """
    if isinstance(node, Sequence):
        if not node.items:
            return ()
        return tuple(each(node.items, lambda item: spot(item, label, field)))
    words = text_of(node, label, "distances of four holes, or `none`", "100 x 50 mm")
    if words == "none":
        return ()
    wide, high = _product(node, label, 2, "100 x 50 mm", "0 or more")
    return ((-wide, -high),)


def distances(node: Node, label: str, field: Field) -> tuple[float, ...]:
    """A list of lengths that grow. [mm]"""
    items = [node] if isinstance(node, Scalar) else items_of(node, label, f"{label}: [10 mm, 300 mm]")
    found = tuple(each(items, lambda item: _one(text_of(item, label, "a length", "10 mm"), item, label, "0 or more")))
    if any(after <= before for before, after in zip(found, found[1:], strict=False)):
        refuse(node.place, f"{label} does not grow", "lengths in order, the smallest first", "sort them")
    return found


def stretch(node: Node, label: str, field: Field) -> tuple[float, float]:
    """From..to, measured from the left. [mm]"""
    words = text_of(node, label, "a stretch such as 100..250 mm", "100..250 mm")
    pieces = _shared_unit(words.split(".."))
    if len(pieces) != 2:
        refuse(
            node.place,
            f"{label}: {quoted(words)} is not a stretch",
            "from..to, such as 100..250 mm",
            f"write {label}: 100..250 mm",
        )
    low, high = (_one(piece, node, label, "0 or more") for piece in pieces)
    if high <= low:
        refuse(node.place, f"{label} ends where it has not begun", "the smaller length first", "exchange the two")
    return low, high


def names(node: Node, label: str, field: Field) -> tuple[str, ...]:
    """One name or a list of names."""
    if isinstance(node, Scalar):
        return (text_of(node, label, "the name of a part", "lamps"),)
    items = items_of(node, label, f"{label}: [lamps, bank]")
    return tuple(each(items, lambda item: text_of(item, label, "the name of a part", "lamps")))


def _product(node: Node, label: str, count: int, example: str, bounds: str = "") -> tuple[float, ...]:
    """So many lengths with a cross between them, the unit behind each or behind the last."""
    words = text_of(node, label, f"a size such as {example}", example)
    pieces = _shared_unit(re.split(_TIMES, words))
    if len(pieces) != count:
        what = {2: "width x height", 3: "width x height x depth"}[count]
        refuse(
            node.place,
            f"{label}: {quoted(words)} is not {what}",
            f"{what}, such as {example}",
            f"write {label}: {example}",
        )
    return tuple(_one(piece, node, label, bounds) for piece in pieces)


def _shared_unit(pieces: list[str]) -> list[str]:
    """A unit that stands behind the last holds for those without one."""
    last = re.fullmatch(_UNIT, pieces[-1].strip())
    if last is None:
        return pieces
    return [piece if re.fullmatch(_UNIT, piece.strip()) else f"{piece} {last[2]}" for piece in pieces]


def _one(words: str, node: Node, label: str, bounds: str) -> float:
    try:
        length_m = number_in(words, "length", node, label)
    except Refusal as refusal:
        (told,) = refusal.problems
        if not words.strip().replace(".", "").isdigit():
            raise
        refuse(told.place, told.what, "a length such as 40 mm", f"write mm behind the number: {words.strip()} mm")
    check_bounds(length_m, "length", bounds_of(bounds, "length"), label, node)
    if length_m * 1000 > _FARTHEST_MM:
        refuse(
            node.place,
            f"{label} of {length_m:g} m is too large for a plate",
            "at most 5 m",
            "check the number and its unit",
        )
    return round(length_m * 1000, 6)
