"""What the solver is given: a network of plain elements and the corners to solve it in.

A node is a number; node 0 is the reference (the common negative). Every element names the nodes it
joins, so that a two-wire point may be one node (return lumped into the loop) or two (return kept apart):
the solver does not know the difference. Current is positive from supply to load.
"""

from ..site.record import record

OPEN_OHM = float("inf")


@record(frozen=True)
class Branch:
    """A resistive path: conductors, joints, fuse and contacts between two nodes."""

    name: str
    start: int
    end: int


@record(frozen=True)
class Source:
    """A battery: an electromotive force behind a resistance."""

    name: str
    positive: int
    negative: int


@record(frozen=True)
class Load:
    """What a device or an idle draw takes between two nodes."""

    name: str
    positive: int
    negative: int


@record(frozen=True)
class Converter:
    """A DC-DC converter; kind is "buck", "boost" or "buck-boost"."""

    name: str
    kind: str
    input_positive: int
    input_negative: int
    output_positive: int
    output_negative: int


@record(frozen=True)
class Feed:
    """A charger: holds its set voltage until its current or power limit."""

    name: str
    positive: int
    negative: int


@record(frozen=True)
class Network:
    """The topology. Node names only serve messages; `nodes[0]` is the reference."""

    nodes: tuple[str, ...]
    branches: tuple[Branch, ...] = ()
    sources: tuple[Source, ...] = ()
    loads: tuple[Load, ...] = ()
    converters: tuple[Converter, ...] = ()
    feeds: tuple[Feed, ...] = ()


@record(frozen=True)
class LoadState:
    """One load in one corner. Total current = power_w / V + current_a + conductance_s * V.

    Below `floor_v` the constant-power share goes on as a resistance, P·V/floor_v².
    Below `cutoff_v` the load is a brown-out: it is recorded, taken off, and the rest solved again.
    A `cutoff_v` of 0 means never taken off.
    """

    power_w: float = 0.0
    current_a: float = 0.0
    conductance_s: float = 0.0
    floor_v: float = 1.0
    cutoff_v: float = 0.0


@record(frozen=True)
class ConverterState:
    """One converter in one corner.

    Input power = P + loss_w + loss_fraction·P + loss_per_w·P², P the output power at the terminals.
    `limit_a` bounds the output current. Below `lockout_v` at the input it switches off.
    `pass_ohm` and `pass_drop_v` hold when it cannot regulate: a boost whose input exceeds its set
    voltage passes it through, a buck whose input is too low follows it.
    """

    set_v: float
    output_ohm: float = 1e-3
    loss_w: float = 0.0
    loss_fraction: float = 0.0
    loss_per_w: float = 0.0
    limit_a: float = float("inf")
    lockout_v: float = 0.0
    pass_ohm: float = 0.02
    pass_drop_v: float = 0.0
    running: bool = True


@record(frozen=True)
class FeedState:
    """One charger in one corner: voltage-held, then limited in current, then in power."""

    set_v: float
    output_ohm: float = 1e-3
    limit_a: float = float("inf")
    limit_w: float = float("inf")
    running: bool = True


@record(frozen=True)
class Corner:
    """Every element's figures in one operating case, in the order of the Network's tuples."""

    name: str
    branch_ohm: tuple[float, ...]
    source_v: tuple[float, ...]
    source_ohm: tuple[float, ...]
    loads: tuple[LoadState, ...] = ()
    converters: tuple[ConverterState, ...] = ()
    feeds: tuple[FeedState, ...] = ()


@record(frozen=True)
class Event:
    """Something that left its working range while solving, in the order met.

    kind: "browned out" (load under cutoff_v), "locked out" (converter under lockout_v),
    "collapsed" (no operating point with this element drawing its power).
    """

    kind: str
    element: str
    voltage_v: float
    needed_v: float


@record(frozen=True)
class OperatingPoint:
    """The solved state of one corner; tuples in the order of the Network's tuples.

    converter_mode: "regulating", "limiting", "passing", "off". feed_mode: "holding",
    "current limit", "power limit", "off". `voltage_v` is relative to node 0.
    `residual_a` is the largest violation of Kirchhoff's current law, all nodes.
    """

    corner: str
    voltage_v: tuple[float, ...]
    branch_a: tuple[float, ...]
    source_a: tuple[float, ...]
    load_v: tuple[float, ...]
    load_a: tuple[float, ...]
    load_on: tuple[bool, ...]
    converter_in_a: tuple[float, ...]
    converter_out_a: tuple[float, ...]
    converter_mode: tuple[str, ...]
    feed_a: tuple[float, ...]
    feed_mode: tuple[str, ...]
    events: tuple[Event, ...]
    residual_a: float
    iterations: int
