"""What the builder wrote, as frozen objects: the site, its batteries, runs and zones.

Every class is declared field by field (`key`), so that the reader, the published schema and the docs
come from one place. `origin` maps an attribute to how it came to be known. A choosable field that the
builder left open is None with origin "choose".
"""

from collections.abc import Mapping
from dataclasses import field
from typing import TYPE_CHECKING

from ..parts.cable import EthernetCable
from ..parts.fuse import Fuse
from ..parts.plug import End
from ..parts.wire import Wire
from ..quantity.span import Span
from .declare import key
from .kinds import Part
from .pieces import Air, ChargeLimits, Endpoint, Height, LaidAs, OpenCircuit, air_span
from .place import Origin, Place
from .record import record

if TYPE_CHECKING:  # at work only loaded for a file that has these sections
    from .boxes import Cabinet
    from .plates import Plate
    from .sky import Array, Goal, Horizon, Obstacle, Weather

NOWHERE = Place("", 0, 0, 0, 0)


@record(frozen=True)
class About:
    """The section `site`: which place, and which tables judge."""

    name: str = key("name", "text", "what the site is called", default="site")
    latitude: float | None = key(
        "latitude", "number:number", "degrees north; decides how long nights can be", bounds="-90..90"
    )
    longitude: float | None = key("longitude", "number:number", "degrees east", bounds="-180..180")
    elevation_m: float = key(
        "elevation",
        "number:length",
        "height above the sea",
        default=0.0,
        assumed="sea level",
        bounds="-500..9000",
    )
    timezone: str = key("timezone", "text", "such as Europe/London", default="UTC")
    rules: str = key(
        "rules",
        "word:IEC|US|small craft|vehicle",
        "which ampacity tables judge",
        default="IEC",
        assumed="IEC tables",
    )
    clear_within_s: float = key(
        "clear within",
        "number:time",
        "time a fuse may take to clear a fault at the far end",
        default=5.0,
        assumed="5 s, the limit for fixed circuits",
    )
    drop_limit_fraction: float = key(
        "drop limit",
        "number:share",
        "share of the supply voltage that may be lost on the way to a device",
        default=0.05,
        assumed="5 % of the supply voltage",
    )
    outlets_touchable: str = key(
        "touch", "word:dry|wet", "how live parts may be touched", default="dry", assumed="dry place"
    )
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)


@record(frozen=True)
class Zone:
    """A place with air of its own; it may lie inside another."""

    name: str
    air: Air | None = key(
        "air",
        "air",
        "coldest and hottest air, such as -8..24 °C, or `loft + 8 K`, or `from heat` in a cabinet",
        why="wires and fuses carry less in hot air",
    )
    inside: str = key("inside", "zone", "the zone around this one", default="")
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)


@record(frozen=True)
class Battery:
    """A battery: its cells, its limits, its voltages."""

    name: str
    chemistry: str = key(
        "chemistry",
        "word:LFP|NMC|lead flooded|lead AGM",
        "kind of cell",
        why="voltage at each state of charge comes from it",
        default="LFP",
    )
    cells: int = key("cells", "number:count", "cells in series", default=0)
    voltage_v: float | None = key("voltage", "number:voltage", "nominal voltage, instead of `cells`")
    parallel: int = key("in parallel", "number:count", "strings of cells side by side in this battery", default=1)
    capacity_ah: float = key(
        "capacity",
        "number:charge",
        "of the whole battery",
        default=0.0,
        why="resistance and short-circuit current come from it",
    )
    by_hours: tuple[tuple[float, float], ...] = key(
        "capacity by hours",
        "rates",
        "what a lead battery gives when emptied in three times; left out, `capacity` is taken as that of 20 h",
        default=(),
    )
    resistance_ohm: float | None = key("resistance", "number:resistance", "of the whole battery with its links")
    measured_fraction: float | None = key(
        "measured within",
        "number:share",
        "how far its resistance, slow part included, may be off, once measured, such as 3 %",
    )
    slow_ohm: float = key(
        "slow resistance",
        "number:resistance",
        "further resistance that builds up slowly and lets the voltage rebound",
        default=0.0,
        assumed="no slow part",
        bounds="0 or more",
    )
    slow_s: float = key("slow time", "number:time", "time constant of the slow resistance", default=60.0)
    limits: ChargeLimits = key(
        "limits",
        "limits",
        "what the protection board allows: discharge, charge, short-trip",
        default=ChargeLimits(),
    )
    charging_v: float | None = key("charging", "number:voltage", "highest voltage while charging")
    equalising_v: float | None = key("equalising", "number:voltage", "voltage while equalising")
    cutoff_v: float | None = key("cut-off", "number:voltage", "lowest voltage at which it still delivers")
    open_circuit: OpenCircuit | None = key(
        "open circuit", "open circuit", "resting voltages {full, nominal, cut-off} when known"
    )
    stud_mm: float | None = key("stud", "stud", "size of its poles, such as M8")
    zone: str = key("zone", "zone", "where it stands", default="")
    at: Height | None = key("at", "height", "in a cabinet: `low`, `middle`, `high`, or height above its floor")
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)


def run_name(start: Endpoint, end: Endpoint, wires: str, twin: int) -> str:
    """What a run is called: "bank -> bar", "bank -> bar (negative)", and the second of its like "bank -> bar #2"."""
    lone = "" if wires == "both" else f" ({wires})"
    return f"{start} -> {end}{lone}" + (f" #{twin}" if twin > 1 else "")


@record(frozen=True)
class Run:
    """A cable run from its source end to its far end. `length_m` is the route, one way."""

    number: int
    start: Endpoint = key("from", "endpoint", "source end: a part, or `part / way`", why="a run joins two parts")
    end: Endpoint = key("to", "endpoint", "far end: a part, or `part / way`", why="a run joins two parts")
    length_m: float = key(
        "length",
        "number:length",
        "length of the route, one way; `from plan` between parts on the plate",
        default=0.0,
        why="resistance and fault current come from it",
        derived="from plan",
    )
    wire: Wire | None = key(
        "wire",
        "wire",
        "conductor, such as `2.5 mm2`, `10 AWG`, `16 mm2 tinned XLPE 90 °C`",
        choosable="choose",
    )
    cable: EthernetCable | None = key("cable", "ethernet cable", "network cable, such as `Cat5e 24 AWG`")
    pairs: int = key(
        "pairs",
        "number:count",
        "pairs of a network cable that carry power",
        default=2,
        assumed="2 pairs: two wires out, two back",
        bounds="1..4",
    )
    wires: str = key("wires", "word:both|positive|negative", "which conductors this run holds", default="both")
    carries: str = key("carries", "word:power|data", "`data` for a signal cable that feeds nothing", default="power")
    shield: str = key(
        "shield",
        "word:none|joined",
        "`joined` when a shield or ground wire joins the negatives",
        default="none",
    )
    fuse: Fuse | None = key("fuse", "fuse", "such as `10 A blade`, `125 A class T`, `20 A breaker`", choosable="choose")
    fuse_at_m: float | None = key(
        "fuse at", "number:length", "how far from the source end the fuse sits", bounds="0 or more"
    )
    fuse_window: Mapping[float, tuple[float, float]] | None = key(
        "fuse window", "fuse window", "melting times known from its sheet: {200 %: 0.2..5 s}"
    )
    holder_a: float | None = key("holder", "number:current", "what the fuse holder may carry")
    sheathed: str = key("sheathed", "word:yes|no", "`yes` when in conduit or a second sheath all the way", default="no")
    ends: tuple[End | None, ...] = key(
        "ends",
        "ends",
        "plug or terminal at each end, such as [ferrule, ring M8]; one of them may be `choose`",
        default=(),
        choosable="choose",
        open=(None, None),
    )
    laid: LaidAs = key(
        "laid",
        "laid",
        "how it is laid: `free air`, `clipped`, `in conduit`, `in trunking with 5`, `bundled with 3`",
        default=LaidAs("in trunking", 1),
        assumed="in trunking on its own",
    )
    zone: str = key("zone", "zone", "where it runs; hottest place counts", default="")
    resistance_ohm: float | None = key("resistance", "number:resistance", "measured, out and back, whole run")
    wire_ohm_per_km: float | None = key(
        "wire resistance", "number:resistance per length", "one wire at 20 °C, in place of the table"
    )
    joint_ohm: float | None = key("joint", "number:resistance", "contact resistance of each end", bounds="0 or more")
    measured_fraction: float | None = key(
        "measured within", "number:share", "how far its joints may be off, once measured, such as 3 %"
    )
    ampacity_a: float | None = key("ampacity", "number:current", "what the wire may carry, in place of the table")
    twin: int = 1  # which one of the runs that would have the same name
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """How findings and drawings call it."""
        return run_name(self.start, self.end, self.wires, self.twin)

    def origin_of(self, attribute: str) -> str:
        """How an attribute came to be known: "stated", "assumed", "choose", "plan", "missing"."""
        return self.origin[attribute].how if attribute in self.origin else "missing"


@record(frozen=True)
class Acceptance:
    """A finding that the builder lives with, and why."""

    finding: str = key("finding", "slug", "the rule, such as drop-on-path", default="", why="it names the rule")
    on: str = key("on", "text", "the part or run; left out: everywhere", default="")
    because: str = key(
        "because",
        "text",
        "the reason, shown in the report",
        default="",
        why="an accepted finding needs a reason that others can read",
    )
    until: str = key("until", "date", "date after which it counts again, such as 2028-01-01", default="")
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)


@record(frozen=True)
class Site:
    """Everything the site file says."""

    path: str
    text: str
    about: About
    zones: Mapping[str, Zone]
    batteries: Mapping[str, Battery]
    parts: Mapping[str, Part]
    runs: tuple[Run, ...]
    accepted: tuple[Acceptance, ...] = ()
    weather: "Weather | None" = None
    arrays: Mapping[str, "Array"] = field(default_factory=dict)
    horizon: "Horizon | None" = None
    obstacles: Mapping[str, "Obstacle"] = field(default_factory=dict)
    goal: "Goal | None" = None
    plate: "Plate | None" = None
    cabinets: Mapping[str, "Cabinet"] = field(default_factory=dict)
    local_air: Mapping[str, Span] = field(default_factory=dict)  # part in a cabinet -> air where it sits, once known

    def air_of(self, zone: str) -> Span:
        """Coldest, middle and hottest air of a zone; 15..30 °C when the site names none. [°C]"""
        return air_span(self.zones, zone)

    def air_at(self, name: str) -> Span:
        """Coldest, middle and hottest air at a part or battery: where it sits in its box, else of its zone. [°C]"""
        found = self.local_air.get(name)
        if found is not None:
            return found
        thing = self.parts.get(name) or self.batteries.get(name)
        return air_span(self.zones, thing.zone if thing is not None else "")
