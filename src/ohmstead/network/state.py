"""The discrete state of every element while a corner is being solved, and the elements' laws in it."""

from dataclasses import dataclass

from .elements import ConverterState, Corner, FeedState, LoadState

OFF = 0
# loads: taken off, drawing by their law, held on the resistance that stands for a collapsed load, or without
# any live supply
ON = 1
LIMB = 2
DEAD = 3
LOW = 4  # by its law, known to have come below its floor without a jump
# converters
REGULATING = 1
LIMITING = 2
PASSING = 3
IDLE = 4  # output held up by something else: awake, but no current flows
# chargers
HOLDING = 1
CURRENT = 2
POWER = 3

CONVERTER_MODES = ("off", "regulating", "limiting", "passing", "regulating")
FEED_MODES = ("off", "holding", "current limit", "power limit")

# Below this a resistance counts as this: far under any joint, yet it keeps the arithmetic exact to 1e-8 A.
LEAST_OHM = 1e-6
NOTHING_A = 1e-6  # a backward current smaller than this is rounding


@dataclass(slots=True)
class State:
    """Modes in the order of the Network's tuples. Changed in place while solving."""

    load: list[int]
    converter: list[int]
    feed: list[int]

    def copy(self) -> "State":
        """An independent copy."""
        return State(self.load[:], self.converter[:], self.feed[:])

    def key(self) -> tuple[int, ...]:
        """A value that is equal for equal modes."""
        return (*self.load, *self.converter, *self.feed)


def first_state(corner: Corner) -> State:
    """Everything that runs at its set voltage, every load on."""
    return State(
        [ON] * len(corner.loads),
        [REGULATING if c.running else OFF for c in corner.converters],
        [HOLDING if f.running else OFF for f in corner.feeds],
    )


def conductance(ohm: float) -> float:
    """Conductance of a resistance; an open path has none."""
    return 1.0 / (ohm if ohm > LEAST_OHM else LEAST_OHM)


def input_floor_v(converter: ConverterState) -> float:
    """Input voltage below which the converter's input goes on as a resistance (never a working point)."""
    return 0.5 * converter.lockout_v if converter.lockout_v > 0.0 else 0.02 * converter.set_v


def load_current_a(load: LoadState, mode: int, voltage_v: float, scale: float) -> float:
    """Current of a load by its law; `scale` multiplies its constant power, not that of a collapsed load."""
    if mode == OFF:
        return 0.0
    current_a = load.conductance_s * voltage_v
    if mode == DEAD:
        return current_a
    if mode != LIMB and voltage_v > load.floor_v:
        return current_a + load.current_a + scale * load.power_w / voltage_v
    power_w = load.power_w if mode == LIMB else scale * load.power_w
    return current_a + (load.current_a + power_w / load.floor_v) * voltage_v / load.floor_v


def converter_currents_a(converter: ConverterState, mode: int, in_v: float, out_v: float) -> tuple[float, float]:
    """Input and output current of a converter in its mode."""
    if mode == OFF:
        return 0.0, 0.0
    through_a = 0.0
    if mode == PASSING:
        out_a = conductance(converter.pass_ohm) * (in_v - converter.pass_drop_v - out_v)
        through_a, power_w = out_a, converter.loss_w
    else:
        if mode == REGULATING:
            out_a = conductance(converter.output_ohm) * (converter.set_v - out_v)
        else:
            out_a = converter.limit_a if mode == LIMITING else 0.0
        p = out_a * out_v
        power_w = converter.loss_w + p * (1.0 + converter.loss_fraction + converter.loss_per_w * p)
    floor_v = input_floor_v(converter)
    if in_v > floor_v:
        return through_a + power_w / in_v, out_a
    return through_a + power_w * in_v / (floor_v * floor_v), out_a


def feed_current_a(feed: FeedState, mode: int, voltage_v: float) -> float:
    """Current a charger delivers in its mode."""
    if mode == HOLDING:
        return conductance(feed.output_ohm) * (feed.set_v - voltage_v)
    if mode == CURRENT:
        return feed.limit_a
    if mode == POWER:
        floor_v = feed_floor_v(feed)
        return feed.limit_w / voltage_v if voltage_v > floor_v else feed.limit_w * voltage_v / floor_v**2
    return 0.0


def feed_floor_v(feed: FeedState) -> float:
    """Voltage under which a charger's power limit no longer rules: its current limit does."""
    return max(feed.limit_w / feed.limit_a, 0.1 * feed.set_v)


def wanted_converter_mode(kind: str, converter: ConverterState, now: int, in_v: float, out_v: float) -> int:
    """The piece of a running converter's characteristic that rules at the voltages found in mode `now`.

    It idles only where its own piece would have to take current back: then something else holds it up.
    """
    held_a = conductance(converter.output_ohm) * (converter.set_v - out_v)
    mode = REGULATING
    if held_a > converter.limit_a:
        mode, held_a = LIMITING, converter.limit_a
    if kind != "buck-boost":
        pass_a = conductance(converter.pass_ohm) * (in_v - converter.pass_drop_v - out_v)
        if (pass_a > held_a) if kind == "boost" else (pass_a < held_a):
            mode, held_a = PASSING, pass_a
    return IDLE if held_a <= -NOTHING_A and now in (mode, IDLE) else mode


def wanted_feed_mode(feed: FeedState, now: int, voltage_v: float) -> int:
    """The piece of a running charger's characteristic that rules at the voltage found in mode `now`."""
    held_a = conductance(feed.output_ohm) * (feed.set_v - voltage_v)
    if held_a <= -NOTHING_A and now in (HOLDING, OFF):
        return OFF
    mode = HOLDING
    if held_a > feed.limit_a:
        mode, held_a = CURRENT, feed.limit_a
    if held_a * voltage_v > feed.limit_w:
        mode = POWER
    return mode
