"""Fuses and breakers as a builder names them: "10 A blade", "125 A class T", "20 A breaker"."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache

from .faults import PartError
from .fuse_family import FuseFamily, Gate, Window, families, fuse_family
from .words import either, like, nearest, take, tidy, without
from .yaml_data import part_words

__all__ = [
    "Fuse",
    "FuseFamily",
    "families",
    "fuse_family",
    "next_rating",
    "read_fuse",
    "with_rating",
    "with_window",
]
_AMPERES = r"(?<![\d.])(\d+(?:\.\d+)?)\s*(m?)\s*a(?:mps?|mperes?)?\b"
EXPECTED = "a fuse such as 10 A blade, 80 A stud, 125 A class T or 20 A breaker"


@dataclass(frozen=True, slots=True)
class Fuse:
    """One fuse: a rating of a family. `stated` is a time window that the builder knows better."""

    rating_a: float
    family: FuseFamily
    text: str
    stated: Window | None = None

    @property
    def window(self) -> Window:
        """The time window that holds: the stated one, else the family's."""
        return self.stated or self.family.window(self.rating_a)

    @property
    def read(self) -> str:
        """How its time window is known."""
        return "stated" if self.stated else self.window.read

    def breaking_capacity_a(self, voltage_v: float) -> float:
        """Largest current it interrupts at a direct voltage; 0 above its rated voltage. [A]"""
        return self.family.breaking_capacity_a(voltage_v, self.rating_a)

    def __str__(self) -> str:
        return self.text


@cache
def read_fuse(text: str) -> Fuse:
    """The fuse behind a builder's words, in any order. Raises PartError.

    >>> fuse = read_fuse("80 A stud")
    >>> fuse.rating_a, fuse.family.name, fuse.breaking_capacity_a(28.8)
    (80.0, 'stud', 5000.0)
    """
    words = tidy(text)
    if take(words, r"\d,\d"):
        raise PartError(f"{words!r} has a comma inside a number", EXPECTED, "write a decimal point: 7.5 A blade")
    found = take(words, _AMPERES)
    if found is None:
        raise PartError(f"{words!r} names no rating", EXPECTED, "start with the rating, such as 10 A")
    rating = float(found[0]) * (1e-3 if found[1] else 1.0)
    rest = without(words, _AMPERES)
    volts = take(rest, r"(?<![\d.x])(\d+)\s*v(?:olts?|dc)?\b")
    rest = tidy(without(without(rest, r"(?<![\d.x])(\d+)\s*v(?:olts?|dc)?\b"), r"\bfuse\b|\bstyle\b"))
    return _checked(words, rating, _family(rest, float(volts[0]) if volts else None))


def _plain(words: str) -> str:
    """Words without case, order, hyphens or spaces around the x of a size."""
    text = words.lower().replace("-", " ").replace("×", "x").replace(" x ", "x").replace("quick acting", "fast")
    return " ".join(sorted(text.split()))


def _family(words: str, volts: float | None) -> FuseFamily:
    """The family that the words name, in the variant for the voltage if one is given."""
    if not words:
        raise PartError("the kind of fuse is missing", EXPECTED, "add the kind, such as blade")
    known = part_words("fuses")
    wanted = _plain(words)
    named = [name for name, entries in known.items() if wanted in [_plain(entry) for entry in entries]]
    if not named:
        guess = like(words, [entry.lower() for entries in known.values() for entry in entries])
        raise PartError(
            f"no fuse is called {words!r}", EXPECTED, f"did you mean {guess}?" if guess else "name its shape"
        )
    if volts is None:
        return min((fuse_family(name) for name in named), key=lambda family: (family.variant_v or 0, family.rated_v))
    fit = [
        family
        for family in map(fuse_family, named)
        if family.rated_v == volts or family.variant_v == volts or volts in [at for at, _ in family.breaking]
    ]
    if not fit:
        rated = " or ".join(sorted({f"{at:g} V" for name in named for at, _ in fuse_family(name).breaking}))
        raise PartError(f"no {words} fuse is made for {volts:g} V", f"{words} for {rated}", "leave out the voltage")
    return fit[0]


def _checked(text: str, rating: float, family: FuseFamily) -> Fuse:
    if rating not in family.ratings_a:
        steps = ", ".join(f"{step:g}" for step in family.ratings_a)
        raise PartError(
            f"a {family.title} is not made for {rating:g} A",
            f"{steps} A",
            f"use {either(rating, family.ratings_a, 'A')}",
        )
    return Fuse(rating, family, text)


def with_rating(fuse: Fuse, rating_a: float) -> Fuse:
    """The same family in another rating, in the builder's own words. Raises PartError when it is not made."""
    if fuse.text:
        return _checked(tidy(f"{rating_a:g} A {without(fuse.text, _AMPERES)}"), rating_a, fuse.family)
    volts = f" {fuse.family.variant_v:g} V" if fuse.family.variant_v else ""
    return _checked(f"{rating_a:g} A {fuse.family.words[0]}{volts}", rating_a, fuse.family)


def next_rating(fuse: Fuse) -> Fuse | None:
    """The next larger fuse of the family; None when it is the largest."""
    above = nearest(fuse.rating_a, fuse.family.ratings_a)[1]
    return None if above is None else with_rating(fuse, above)


def rating_at_most(family: FuseFamily, current_a: float) -> float | None:
    """The largest rating of a family that does not exceed a current. [A]"""
    return max((step for step in family.ratings_a if step <= current_a), default=None)


def rating_at_least(family: FuseFamily, current_a: float) -> float | None:
    """The smallest rating of a family that is not below a current. [A]"""
    return min((step for step in family.ratings_a if step >= current_a), default=None)


def with_window(fuse: Fuse, points: Mapping[float, tuple[float, float]]) -> Fuse:
    """The same fuse with melting times read from its own sheet.

    `points` maps a multiple of the rating (2 is twice the rating) to the shortest and longest time [s]. Below
    the stated multiples the family's own gates still hold; beyond them the last stated I²t does. A breaker keeps
    its magnetic gates, which need more current and open sooner than any gate that a sheet states below them.
    """
    stated = tuple(Gate(round(100 * times, 6), least, most) for times, (least, most) in sorted(points.items()))
    first = stated[0]
    below = [_above(gate, first) for gate in fuse.window.gates if gate.percent < first.percent]
    gates = tuple(gate for gate in below if gate.least_s is not None or gate.most_s is not None) + stated
    if fuse.family.kind == "breaker":
        gates += tuple(gate for gate in fuse.window.gates if gate.percent > stated[-1].percent)
    return replace(fuse, stated=Window(fuse.rating_a, fuse.rating_a, gates, "stated"))


def _above(gate: Gate, first: Gate) -> Gate:
    """What of a family's gate does not contradict the first stated one: less current never opens sooner."""
    least, most = gate.least_s, gate.most_s
    if least is not None and first.least_s is not None and least < first.least_s:
        least = None
    if most is not None and first.most_s is not None and most < first.most_s:
        most = None
    return Gate(gate.percent, least, most)
