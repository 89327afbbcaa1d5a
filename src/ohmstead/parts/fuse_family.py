"""A family of fuses or breakers: everything of a shape and standard that its rating scales."""

from bisect import bisect_left
from dataclasses import dataclass
from functools import cache
from math import exp, log
from typing import Any

from .yaml_data import part_file, part_names


@dataclass(frozen=True, slots=True)
class Gate:
    """At this multiple of the rating it opens no sooner than `least_s` and at latest after `most_s`.

    None where nothing is promised on that side.
    """

    percent: float
    least_s: float | None
    most_s: float | None


@dataclass(frozen=True, slots=True)
class Window:
    """The gates that hold for the ratings from `from_a` to `to_a`."""

    from_a: float
    to_a: float
    gates: tuple[Gate, ...]
    read: str


@dataclass(frozen=True, slots=True)
class FuseFamily:
    """Data of one file in `fuses/`. Sources are keys of the bibliography.

    `breaking` pairs a direct voltage with the largest current it interrupts there; `rerating` an ambient
    temperature with the share of the rating left; drops are at rated current.
    """

    name: str
    title: str
    kind: str
    words: tuple[str, ...]
    variant_v: float | None
    source: str
    place: str
    read: str
    rated_v: float
    breaking: tuple[tuple[float, float], ...]
    breaking_tenfold: str
    breaking_source: str
    breaking_read: str
    ratings_a: tuple[float, ...]
    windows: tuple[Window, ...]
    rerating: tuple[tuple[float, float], ...]
    rerating_read: str
    drop_v: tuple[tuple[float, float], ...]
    cold_ohm: tuple[tuple[float, float], ...]
    resistance_read: str
    melting_a2s: tuple[tuple[float, float], ...]
    continuous_fraction: float
    continuous_source: str
    continuous_read: str
    holder_a: float | None
    current_limiting: str
    printed_ac_v: float | None  # printed on the body, for alternating current only

    def breaking_capacity_a(self, voltage_v: float, rating_a: float) -> float:
        """Largest current it interrupts at a direct voltage; 0 above its highest rated voltage. [A]"""
        for volts, amperes in self.breaking:
            if voltage_v <= volts:
                return max(amperes, 10 * rating_a) if self.breaking_tenfold == "yes" else amperes
        return 0.0

    def window(self, rating_a: float) -> Window:
        """The time window of a rating."""
        return next(window for window in self.windows if window.from_a <= rating_a <= window.to_a)


@cache
def fuse_family(name: str) -> FuseFamily:
    """The family in `fuses/<name>.yaml`."""
    if name not in part_names("fuses"):
        raise KeyError(f"no fuse family {name}; there are {', '.join(part_names('fuses'))}")
    data = part_file("fuses", name)
    standard, breaking, ambient = data["standard"], data["breaking"], data["ambient"]
    resistance, continuous = data["resistance"], data["continuous"]
    return FuseFamily(
        name=name,
        title=data["title"],
        kind=data.get("kind", "fuse"),
        words=tuple(data["words"]),
        variant_v=_float(data.get("variant_v")),
        source=standard["source"],
        place=standard["place"],
        read=standard["read"],
        rated_v=float(max(breaking["at_v"])),
        breaking=_pairs(breaking["at_v"]),
        breaking_tenfold="yes" if data.get("tenfold") else "no",
        breaking_source=breaking["source"],
        breaking_read=breaking["read"],
        ratings_a=tuple(float(rating) for rating in data["ratings"]),
        windows=tuple(_window(entry, standard["read"]) for entry in data["windows"]),
        rerating=_pairs(ambient["share"]),
        rerating_read=ambient["read"],
        drop_v=_pairs(resistance["drop_mv"], 1e-3),
        cold_ohm=_pairs(resistance.get("cold_mohm", {}), 1e-3),
        resistance_read=resistance["read"],
        melting_a2s=_pairs(data.get("melting_a2s", {})),
        continuous_fraction=float(continuous["share"]),
        continuous_source=continuous["source"],
        continuous_read=continuous["read"],
        holder_a=_float(data.get("holder_a")),
        current_limiting="yes" if data.get("current_limiting") else "no",
        printed_ac_v=_float(data.get("printed_ac_v")),
    )


def families() -> tuple[FuseFamily, ...]:
    """All families, by name. Reads every file: for lists and docs, not for a check."""
    return tuple(fuse_family(name) for name in part_names("fuses"))


def _pairs(table: dict[Any, Any], factor: float = 1.0) -> tuple[tuple[float, float], ...]:
    return tuple(sorted((float(key), float(value) * factor) for key, value in table.items()))


def _window(entry: dict[str, Any], read: str) -> Window:
    gates = tuple(
        Gate(float(percent), _float(least), _float(most)) for percent, (least, most) in sorted(entry["points"].items())
    )
    return Window(float(entry.get("from", 0)), float(entry.get("to", 1e9)), gates, entry.get("read", read))


def _float(value: float | None) -> float | None:
    return None if value is None else float(value)


def between(x: float, points: tuple[tuple[float, float], ...]) -> float:
    """Log-log interpolation; the nearest end outside the points.

    >>> round(between(2.0, ((1.0, 10.0), (4.0, 40.0))), 6)
    20.0
    """
    if x <= points[0][0]:
        return points[0][1]
    if x >= points[-1][0]:
        return points[-1][1]
    i = bisect_left(points, (x, 0.0))
    (x0, y0), (x1, y1) = points[i - 1], points[i]
    if x == x1:
        return y1
    return exp(log(y0) + log(x / x0) / log(x1 / x0) * log(y1 / y0))
