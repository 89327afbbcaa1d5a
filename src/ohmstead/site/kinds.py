"""The kinds of part a site can hold, each declared field by field."""

from collections.abc import Mapping
from dataclasses import field

from ..parts.plug import End
from ..quantity.span import Span
from .declare import key
from .pieces import Draw, DutyEntry, Height, Idle, Level, Lockout
from .place import Origin, Place
from .record import record

NOWHERE = Place("", 0, 0, 0, 0)


@record(frozen=True)
class Part:
    """What every part has: a name, a kind, a zone, a place in the file."""

    name: str
    zone: str = key("zone", "zone", "where it stands", default="")
    at: Height | None = key("at", "height", "in a cabinet: `low`, `middle`, `high`, or height above its floor")
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)


@record(frozen=True)
class Charger(Part):
    """A source that holds a voltage up to a limit: mains charger, solar charge controller, generator."""

    kind = "charger"
    supply: str = key("from", "word:mains|sun|generator|vehicle", "what drives it", default="mains")
    voltage_v: float = key(
        "voltage",
        "number:voltage",
        "highest set voltage at its terminals",
        default=0.0,
        why="everything on the bus must bear it",
    )
    equalising_v: float | None = key("equalising", "number:voltage", "voltage while equalising")
    current_a: float = key(
        "current", "number:current", "most it delivers", default=0.0, why="battery and wire must bear it"
    )
    power_w: float | None = key("power", "number:power", "most power it delivers")
    arrays: tuple[str, ...] = key(
        "array", "arrays", "the array, or the list of arrays, that a sun charger takes its power from", default=()
    )
    type: str = key(
        "type",
        "word:maximum power|switching",
        "how a sun charger draws: at the array's best point, or at the battery's voltage",
        default="maximum power",
        assumed="holds the array at its best point",
    )
    efficiency: tuple[tuple[float, float], ...] = key(
        "efficiency",
        "efficiency",
        "output power over input power, one value or by load",
        default=((0.5, 0.96),),
        assumed="96 % of the array's power passes",
    )
    night_w: float = key(
        "night draw",
        "number:power",
        "what a sun charger draws from the battery by night",
        default=1.0,
        assumed="draws 1 W by night",
        bounds="0 or more",
    )
    float_v: float | None = key("float", "number:voltage", "voltage it holds once the battery is full")
    array_limit_v: float | None = key("most input voltage", "number:voltage", "highest voltage its array side bears")
    array_limit_a: float | None = key("most input current", "number:current", "highest current its array side bears")
    stud_mm: float | None = key("stud", "stud", "size of its studs, where it has some, such as M6")
    starts_at: Level | None = key(
        "starts at", "level", "as a back-up source: how empty the battery is when it starts; left out: not in a season"
    )
    stops_at: Level | None = key("stops at", "level", "as a back-up source: how full the battery is when it stops")
    least_run_s: float | None = key("least run", "number:time", "shortest time it runs once started")
    fuel_l_per_h: float | None = key("fuel", "number:fuel flow", "what a generator burns while this gives its most")
    idle_fuel_l_per_h: float | None = key(
        "idle fuel", "number:fuel flow", "what a generator burns while it gives nothing"
    )


@record(frozen=True)
class Distribution(Part):
    """A fuse block or fused bus: one feed in, numbered fused ways out."""

    kind = "distribution"
    ways: int | None = key(
        "ways", "number:count", "fused ways", default=0, why="runs are counted against it", choosable="choose"
    )
    total_a: float | None = key("total", "number:current", "what the whole block may carry", choosable="choose")
    per_way_a: float | None = key("per way", "number:current", "what one way may carry", choosable="choose")
    voltage_v: float | None = key("voltage", "number:voltage", "highest voltage it is made for", choosable="choose")
    contact_ohm: float = key(
        "contact",
        "number:resistance",
        "resistance of one way without its fuse",
        default=0.5e-3,
        assumed="0.5 mΩ a way",
        bounds="0 or more",
    )
    stud_mm: float | None = key("stud", "stud", "size of the feed stud, such as M6")


@record(frozen=True)
class Busbar(Part):
    """A bare bar or a junction where runs meet, with nothing to open them."""

    kind = "busbar"
    rating_a: float | None = key("rating", "number:current", "what it may carry")
    stud_mm: float | None = key("stud", "stud", "size of its studs, such as M8")


@record(frozen=True)
class Switch(Part):
    """A switch, disconnect or contactor worked by hand."""

    kind = "switch"
    rating_a: float | None = key("rating", "number:current", "what it may carry")
    voltage_v: float | None = key("voltage", "number:voltage", "highest DC voltage it may break")
    contact_ohm: float = key(
        "contact",
        "number:resistance",
        "resistance when closed",
        default=0.3e-3,
        assumed="0.3 mΩ closed",
        bounds="0 or more",
    )
    measured_fraction: float | None = key(
        "measured within", "number:share", "how far its contact resistance may be off, once measured, such as 3 %"
    )
    set_to: str = key("set", "word:closed|open", "how it stands", default="closed")
    stud_mm: float | None = key("stud", "stud", "size of its studs, such as M8")


@record(frozen=True)
class Disconnect(Part):
    """A low-voltage disconnect: opens below one voltage, closes again above another."""

    kind = "low-voltage disconnect"
    off_v: float = key("off", "number:voltage", "opens below", default=0.0, why="the battery-low case is here")
    on_v: float = key(
        "on",
        "number:voltage",
        "closes again above",
        default=0.0,
        why="the gap to `off` decides whether it chatters",
    )
    delay_s: float = key("delay", "number:time", "how long the voltage must stay low", default=0.0, bounds="0 or more")
    senses: str = key(
        "senses",
        "part or battery",
        "the battery or part whose voltage it watches; left out: its own input",
        default="",
    )
    rating_a: float | None = key("rating", "number:current", "what it may carry")
    contact_ohm: float = key(
        "contact",
        "number:resistance",
        "resistance when closed",
        default=1e-3,
        assumed="1 mΩ closed",
        bounds="0 or more",
    )
    measured_fraction: float | None = key(
        "measured within", "number:share", "how far its contact resistance may be off, once measured, such as 3 %"
    )
    own_w: float = key("own use", "number:power", "what it draws itself", default=0.0, bounds="0 or more")
    stud_mm: float | None = key("stud", "stud", "size of its studs, such as M8")


@record(frozen=True)
class Converter(Part):
    """A DC-DC converter."""

    kind = "converter"
    type: str = key(
        "type",
        "word:buck|boost|buck-boost",
        "step-down, step-up or both",
        default="buck-boost",
        assumed="steps both up and down",
    )
    isolated: str = key(
        "isolated",
        "word:yes|no",
        "`yes` when output and input negatives are apart",
        default="no",
        assumed="common negative",
    )
    input_v: Span = key(
        "input",
        "span:voltage",
        "input window",
        default=Span(0.0, 0.0, 0.0),
        why="it must hold from battery low to charging",
    )
    output_v: Span = key(
        "output",
        "span:voltage",
        "set voltage with its tolerance",
        default=Span(0.0, 0.0, 0.0),
        why="its devices are judged at it",
    )
    rating_w: float | None = key("rating", "number:power", "output power it can hold", choosable="choose")
    limit_a: float | None = key("current limit", "number:current", "output current at which it limits")
    idle: Idle = key(
        "idle",
        "idle",
        "what it takes with nothing connected, such as `12 mA at 25.6 V` or `0.3 W`",
        default=Idle(0.25),
        assumed="0.25 W with no load",
    )
    efficiency: tuple[tuple[float, float], ...] = key(
        "efficiency",
        "efficiency",
        "one share, or {10 %: 0.86, 50 %: 0.94, 100 %: 0.92}",
        default=((0.5, 0.9),),
        assumed="90 % at half load",
    )
    measured_fraction: float | None = key(
        "measured within", "number:share", "how far its idle draw may be off, once measured, such as 3 %"
    )
    lockout: Lockout | None = key("lockout", "lockout", "{off: 18 V, on: 19 V}: input under-voltage lockout")
    full_until_c: float = key(
        "full until",
        "number:temperature",
        "air up to which it gives its rating",
        default=50.0,
        assumed="full power up to 50 °C",
    )
    nothing_at_c: float = key(
        "nothing at",
        "number:temperature",
        "air at which it gives nothing",
        default=85.0,
        assumed="falls to nothing at 85 °C",
    )
    start_w: float | None = key("start-up", "number:power", "input power while it starts")
    capacitance_f: float = key(
        "capacitance",
        "number:capacitance",
        "at its input",
        default=0.0,
        assumed="no input capacitance stated",
        bounds="0 or more",
    )
    inductance_h: float = key("inductance", "number:inductance", "of its input filter", default=0.0, bounds="0 or more")
    stud_mm: float | None = key("stud", "stud", "size of its studs, where it has some, such as M6")


@record(frozen=True)
class EthernetSource(Part):
    """A switch or injector that powers devices through network cable."""

    kind = "ethernet power source"
    standard: str = key(
        "standard",
        "word:af|at|bt3|bt4|passive",
        "IEEE 802.3 type, or passive",
        default="at",
        why="it sets watts and volts per port",
    )
    ports: int = key("ports", "number:count", "ports that give power", default=1, why="runs are counted against it")
    budget_w: float | None = key("budget", "number:power", "power for all ports together")
    own_w: float = key(
        "own use",
        "number:power",
        "what it draws itself with no device",
        default=0.0,
        assumed="draws nothing itself",
        bounds="0 or more",
    )
    start_w: float | None = key("start-up", "number:power", "what it draws itself while booting")
    input_v: Span = key(
        "input",
        "span:voltage",
        "input window",
        default=Span(0.0, 0.0, 0.0),
        why="its supply must stay inside",
    )
    output_v: Span | None = key(
        "output", "span:voltage", "port voltage when it makes its own; left out: its input passes through"
    )
    efficiency: float = key(
        "efficiency", "number:share", "of its own conversion", default=0.9, assumed="90 % when it converts"
    )
    capacitance_f: float = key("capacitance", "number:capacitance", "at its input", default=0.0, bounds="0 or more")
    inlet: End | None = key("plug", "end", "its power inlet, such as barrel 5.5x2.1 centre positive")


@record(frozen=True)
class Device(Part):
    """Something that is fed."""

    kind = "device"
    input_v: Span | None = key("input", "span:voltage", "voltage window, such as 18..20 V or 19 V ± 5 %")
    draws: tuple[Draw, ...] = key(
        "draws",
        "draws",
        "watts by state, such as {idle: 7 W, start-up: 55 W for 25 s}",
        default=(),
        why="a load without watts cannot be judged",
    )
    duty: tuple[DutyEntry, ...] = key(
        "duty", "duty", "when it is in which state", default=(), assumed="may be in any state at any time"
    )
    priority: int | None = key(
        "priority", "number:count", "1 is the last to be switched off; left out: 1", bounds="1..9"
    )
    behaves: str = key(
        "behaves",
        "word:constant power|constant current|resistance",
        "how its current moves with voltage",
        default="constant power",
        assumed="takes constant power",
    )
    inlet: End | None = key("plug", "end", "its power inlet, such as barrel 5.5x2.5 centre positive")
    over: str = key("over", "word:wire|ethernet|passive ethernet", "how it gets its power", default="wire")
    class_: int | None = key("class", "number:count", "its class under IEEE 802.3 (0-8)", bounds="0..8")
    capacitance_f: float = key(
        "capacitance",
        "number:capacitance",
        "at its input",
        default=0.0,
        assumed="no input capacitance stated",
        bounds="0 or more",
    )
    cutoff_v: float | None = key("cut-off", "number:voltage", "voltage below which it stops")
    warm_limit_c: float | None = key("warm limit", "number:temperature", "hottest air it bears")
    leaves_fraction: float = key(
        "leaves",
        "number:share",
        "share of its power that leaves it as radio waves, light or work; the rest warms the cabinet it stands in",
        default=0.0,
        assumed="all its power becomes heat",
        bounds="0..1",
    )
    negative: str = key(
        "negative",
        "word:floating|case",
        "`case` when its metal case or data port joins the negative",
        default="floating",
    )


KINDS: dict[str, type[Part]] = {
    kind.kind: kind for kind in (Charger, Distribution, Busbar, Switch, Disconnect, Converter, EthernetSource, Device)
}
