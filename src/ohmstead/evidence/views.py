"""What rules look at: each run and each part with everything computed about it, over all cases.

Rules never solve anything: they compare what stands here with a limit. Every worst value names its case.
Currents are positive magnitudes unless said otherwise. `None` means it does not apply or is not known.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Generic, TypeVar

from ..parts.fuse import Fuse
from ..parts.wire import Wire
from ..site.kinds import (
    Busbar,
    Charger,
    Converter,
    Device,
    Disconnect,
    Distribution,
    EthernetSource,
    Part,
    Switch,
)
from ..site.model import Battery, Run
from ..site.place import Place
from ..site.record import record
from ..wiring.ampacity import Ampacity

if TYPE_CHECKING:  # at work only loaded for a site with arrays
    from .arrays import ArrayView
    from .cabinets import CabinetView
    from .plates import PlateView

P = TypeVar("P", bound=Part)


@record(frozen=True)
class Worst:
    """A value and the case that made it."""

    value: float
    case: str


@record(frozen=True)
class Pulse:
    """A brief current through a run, fuse or battery while a device starts."""

    device: str
    current_a: float
    seconds: float
    case: str


@record(frozen=True)
class FuseView:
    """A fuse where it sits: in a run, at a way of a block, or at a battery terminal."""

    fuse: Fuse
    run: str  # name of the run that holds it
    rating_a: float
    ambient_c: float  # hottest air where it sits
    continuous_a: float  # what it may carry for hours at that ambient
    holder_a: float | None  # stated holder, way or family limit, whichever is least
    at_m: float  # distance from the source end of its run
    place: Place


@record(frozen=True)
class FaultView:
    """A bolted fault somewhere: the current through this run and what limits it."""

    largest_a: float  # full battery, cold copper, least resistance, chargers on
    smallest_a: float  # battery low, hot copper, most resistance
    largest_v: float  # voltage that drives the largest: a full battery at rest, a converter at its highest
    limited_by: str  # "battery", or the name of the converter or charger whose current limit bounds it


@record(frozen=True)
class RunView:
    """A power run with its wire, its protection and its currents."""

    run: Run
    name: str
    place: Place
    wire: Wire | None  # None: network cable, or left open
    ampacity: Ampacity | None
    ambient_c: float  # hottest air along it
    coldest_c: float
    loop_cold_ohm: float  # whole run out and back with joints and fuse, coldest
    loop_hot_ohm: float  # hottest, at its working temperature
    joint_ohm: float  # share of joints and fuse in it
    current: Worst  # largest of all cases, start-ups included
    sustained: Worst  # largest of the cases that can last
    lowest_a: float  # smallest sustained current in any case (0 when it may carry nothing)
    drop: Worst  # voltage lost along it, out and back, largest sustained
    lost_w: float  # heat along it in that case
    source_low: Worst  # voltage at its source end
    source_high: Worst
    pulses: tuple[Pulse, ...]  # start-up currents through it
    own_fuse: FuseView | None
    guard: FuseView | None  # nearest fuse from the source that protects it (own or upstream)
    upstream: tuple[str, ...]  # names of runs in series towards the source, nearest first
    downstream: tuple[str, ...]  # names of runs fed through it
    feeds: tuple[str, ...]  # names of devices fed through it
    fed_by: str  # name of the battery, converter, charger or ethernet source that feeds it first
    fed_kind: str  # "battery" | "converter" | "charger" | "ethernet power source" | "nothing"
    supply_v: float  # nominal voltage of that source
    fault_near: FaultView | None  # just behind its source end
    fault_far: FaultView | None  # at its far end
    unfused_m: float  # length from the source end to its own fuse; whole run when it has none


@record(frozen=True)
class DeviceView:
    """A device at its terminals."""

    device: Device
    name: str
    place: Place
    fed_by: str
    path: tuple[str, ...]  # runs from the feeding source to it, source first; () when nothing feeds it
    supply_v: float  # nominal voltage of the feeding source
    low_v: float | None  # its window; None when not stated
    high_v: float | None
    lowest: Worst | None  # lowest voltage at its terminals while it draws (before it was taken off)
    highest: Worst | None
    browned_out: Worst | None  # voltage at which it had to be taken off
    victim_of: str  # name of what failed first when this one only follows; empty otherwise
    path_drop: Worst  # voltage lost from the feeding source's terminals to it, sustained
    ambient_c: float
    daily_wh: float  # by its duty, mean of its draws
    idle_w: float  # its lowest state


@record(frozen=True)
class ConverterView:
    """A converter (or an Ethernet source that makes its own voltage)."""

    converter: Converter
    name: str
    place: Place
    input_lowest: Worst | None
    input_highest: Worst | None
    output_w: Worst  # largest sustained output power asked for
    output_peak_w: Worst  # with start-ups
    output_a: Worst
    input_a: Worst
    ambient_c: float
    derated_w: float | None  # rating at that ambient
    locked_out: Worst | None  # input voltage at which it had to switch off
    victim_of: str
    limited: str  # case in which it sits in its current limit, empty otherwise
    passing: str  # case in which it cannot regulate (boost passing its input, buck in drop-out)
    idle_w: float
    source_ohm: float  # resistance seen from its input back to the battery, hot and low
    source_v: float  # open-circuit voltage there, battery low
    rebound_v: float  # by how much its input rises when it switches off (battery low, busiest)
    feeds: tuple[str, ...]


@record(frozen=True)
class BatteryView:
    """A battery at its terminals."""

    battery: Battery
    name: str
    place: Place
    nominal_v: float
    full_v: float
    low_v: float  # voltage of the battery-low cases, open circuit
    high_v: float  # charging or equalising, whichever is higher
    resistance_ohm: float  # fresh, for the largest fault
    resistance_high_ohm: float  # aged and cold, for the smallest
    discharge: Worst  # largest sustained
    peak: Worst  # with start-ups
    charge: Worst
    pulses: tuple[Pulse, ...]
    short_circuit_a: float  # at its own terminals, largest
    together_a: float  # at the bus with all batteries in parallel
    shares: Mapping[str, float]  # share of the total current by battery, busiest case; {} when alone
    idle_days: float  # days until idle draws alone empty it
    guarded: str  # name of the low-voltage disconnect, protection ("limits") or "" when nothing stops the draw


@record(frozen=True)
class PortView:
    """One powered port and what hangs on it."""

    port: int
    run: str
    device: Device
    loop_ohm: float  # hot
    device_v: Worst  # lowest at the powered device
    device_w: float  # its largest draw
    port_w: float  # that draw with the cable's loss
    reserved_w: float  # what its class reserves
    port_v: Worst  # lowest at the port
    current_a: float


@record(frozen=True)
class EthernetView:
    """An Ethernet power source with its ports."""

    source: EthernetSource
    name: str
    place: Place
    input_lowest: Worst | None
    input_highest: Worst | None
    ports: tuple[PortView, ...]
    total_w: float  # all ports, worst draw, cable loss counted
    reserved_w: float


@record(frozen=True)
class DistributionView:
    """A fuse block and what flows through it."""

    block: Distribution
    name: str
    place: Place
    total: Worst
    ways_used: tuple[int, ...]
    by_way: Mapping[int, Worst]
    high_v: float
    ambient_c: float
    fault: FaultView | None  # bolted fault at its bus, total current


@record(frozen=True)
class DisconnectView:
    """A low-voltage disconnect."""

    part: Disconnect
    name: str
    place: Place
    current: Worst
    rebound_v: float  # rise of the sensed voltage when it opens under the battery-low busiest load, fast part
    slow_rebound_v: float  # further rise by the battery's slow part
    sensed_low_v: float  # sensed voltage in that case before opening


@record(frozen=True)
class Carrier(Generic[P]):
    """A switch, busbar or charger with the current through it and the voltages at it."""

    part: P
    name: str
    place: Place
    current: Worst
    high_v: float
    low_v: float


@record(frozen=True)
class Margin:
    """How much more load before the supply collapses, in the worst case."""

    factor: float
    element: str
    case: str


@record(frozen=True)
class DayUse:
    """Energy of a mean day at the battery. [Wh]"""

    total_wh: float
    idle_wh: float  # converters and switches with nothing to do, devices in their lowest state
    by_part: Mapping[str, float]
    idle_by_part: Mapping[str, float]


@record(frozen=True)
class Join:
    """A conducting path of negatives through a data cable's shield or a device's case."""

    run: Run
    negatives: tuple[str, str]  # names of the parts whose negatives it joins
    isolated_between: str  # isolated converter that it bridges, empty otherwise


@dataclass(frozen=True, eq=False)
class Evidence:
    """All that rules may look at."""

    rules: str  # "IEC" | "US" | "small craft" | "vehicle"
    clear_within_s: float
    drop_limit_fraction: float
    touch: str
    system_v: float  # nominal voltage of the main battery
    highest_v: float  # highest voltage anywhere in the site
    runs: tuple[RunView, ...]
    data_runs: tuple[Run, ...]
    devices: tuple[DeviceView, ...]
    converters: tuple[ConverterView, ...]
    batteries: tuple[BatteryView, ...]
    ethernet: tuple[EthernetView, ...]
    blocks: tuple[DistributionView, ...]
    disconnects: tuple[DisconnectView, ...]
    switches: tuple[Carrier[Switch], ...]
    busbars: tuple[Carrier[Busbar], ...]
    chargers: tuple[Carrier[Charger], ...]
    joins: tuple[Join, ...]
    loose: tuple[Part, ...]  # parts that no run touches
    unfed: tuple[Part, ...]  # parts that runs touch but no source reaches
    open_choices: tuple[tuple[str, str, Place], ...]  # subject, what is left open, where
    margin: Margin | None
    day: DayUse
    drop_limit_how: str = "assumed"  # "stated" when the builder set the limit
    at_m_assumed: tuple[str, ...] = ()  # runs whose fuse position was assumed
    supplied: Mapping[str, str] = field(default_factory=dict)  # part -> the run that brings its power
    arrays: tuple["ArrayView", ...] = ()
    plate: "PlateView | None" = None
    cabinets: tuple["CabinetView", ...] = ()

    @cached_property
    def run_named(self) -> Mapping[str, RunView]:
        """The runs by their names."""
        return {view.name: view for view in self.runs}

    def run(self, name: str) -> RunView:
        """The run of that name."""
        return self.run_named[name]
