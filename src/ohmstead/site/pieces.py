"""Small values inside the parts of a site: end points, draws, duty, limits."""

from collections.abc import Mapping
from typing import Any

from ..quantity.span import Span
from .record import record


@record(frozen=True)
class Endpoint:
    """One end of a run: a part and, when it has them, one of its ways or ports (counted from 1)."""

    part: str
    way: int | None = None

    def __str__(self) -> str:
        return self.part if self.way is None else f"{self.part} / {self.way}"


@record(frozen=True)
class Air:
    """Air of a zone: stated, or a rise above another zone's. [°C, K]

    made: "heat" when section cabinet works it out; until then it is the air around the box.
    """

    low_c: float = 0.0
    high_c: float = 0.0
    above: str = ""
    rise_k: float = 0.0
    made: str = ""


def air_span(zones: Mapping[str, Any], name: str) -> Span:
    """Coldest, middle and hottest air of a zone; 15..30 °C when none is named. [°C]"""
    zone = zones.get(name)
    if zone is None or zone.air is None:
        return Span(15.0, 22.5, 30.0)
    air = zone.air
    if air.made == "heat":
        return air_span(zones, zone.inside)
    if not air.above:
        return Span(air.low_c, (air.low_c + air.high_c) / 2, air.high_c)
    under = air_span(zones, air.above)
    return Span(under.low, under.nominal + air.rise_k / 2, under.high + air.rise_k)


@record(frozen=True)
class Height:
    """Where a part sits in its box: "low", "middle", "high", or metres above the floor of the box."""

    word: str = ""
    height_m: float | None = None


@record(frozen=True)
class ChargeLimits:
    """What the protection board of a battery allows; None where not stated. [A]"""

    discharge_a: float | None = None
    charge_a: float | None = None
    short_trip_a: float | None = None


@record(frozen=True)
class OpenCircuit:
    """Resting voltages of the whole battery. [V]"""

    full_v: float
    nominal_v: float
    cutoff_v: float


@record(frozen=True)
class LaidAs:
    """How a run is laid: method as the ampacity tables name it, and loaded circuits side by side.

    `circuits` counts all that lie together, this run included: `in trunking with 5` is this run and four more.
    """

    method: str  # "free air" | "clipped" | "in conduit" | "in trunking" | "bundled"
    circuits: int = 1


@record(frozen=True)
class Draw:
    """What a device takes in one state: lowest, usual, highest power [W]; how long, when it is brief [s]."""

    state: str
    power_w: Span
    seconds: float | None = None


@record(frozen=True)
class Idle:
    """No-load input of a converter: current at a voltage, or power. [W, V]"""

    power_w: float
    at_v: float | None = None


@record(frozen=True)
class Lockout:
    """A converter's under-voltage lockout. [V]"""

    off_v: float
    on_v: float


@record(frozen=True)
class DutyEntry:
    """When a device is in a state.

    kind: "clock" (start_h to end_h, may wrap over midnight), "dark", "light", "daily hours" (hours a
    day at any time between start_h and end_h), "random" (hours a day in the mean, drawn hour by hour between start_h
    and end_h), "air" (a share of the time that follows the air where it stands: `points` of °C and share, straight
    between them and level beyond), "any" (now and then: at any time), "rest" (when no other entry applies).
    days: 0 is Monday; months: 1 is January; all when empty.
    """

    state: str
    kind: str
    start_h: float = 0.0
    end_h: float = 24.0
    hours: float = 0.0
    days: tuple[int, ...] = ()
    months: tuple[int, ...] = ()
    points: tuple[tuple[float, float], ...] = ()


@record(frozen=True)
class Level:
    """How full a battery is: a share of the energy it holds, or the voltage it shows; unit "share" or "voltage"."""

    value: float
    unit: str = "share"


@record(frozen=True)
class ShedStep:
    """From this priority on, devices go off when the battery falls to `off`, and come back when it is at `on`."""

    priority: int
    off: Level
    on: Level
