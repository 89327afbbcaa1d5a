"""The figures of one corner in the order the compiled program takes them."""

from .elements import Corner
from .state import (
    CURRENT,
    HOLDING,
    LEAST_OHM,
    LIMB,
    LIMITING,
    LOW,
    OFF,
    ON,
    PASSING,
    POWER,
    REGULATING,
    State,
    conductance,
    feed_floor_v,
    input_floor_v,
)


def linear(corner: Corner, state: State, pins: tuple[float, ...]) -> list[float]:
    """Everything that stays the same while Newton's method iterates: arguments of `prepare`.

    `pins` holds one conductance to the reference a node (from node 1), see `reach`.
    """
    out = [1.0 / (r if r > LEAST_OHM else LEAST_OHM) for r in corner.branch_ohm]
    for emf_v, ohm in zip(corner.source_v, corner.source_ohm, strict=True):
        g = conductance(ohm)
        out += (g, g * emf_v)
    for load, mode in zip(corner.loads, state.load, strict=True):
        g = load.conductance_s if mode != OFF else 0.0
        if mode == LIMB:
            g += (load.current_a + load.power_w / load.floor_v) / load.floor_v
        out.append(g)
    for converter, mode in zip(corner.converters, state.converter, strict=True):
        g = conductance(converter.pass_ohm) if mode == PASSING else 0.0
        out += (*_output(converter.set_v, converter.output_ohm, converter.limit_a, mode), g)
        out.append(g * converter.pass_drop_v)
    for feed, mode in zip(corner.feeds, state.feed, strict=True):
        if mode == HOLDING:
            g = conductance(feed.output_ohm)
            out += (g, g * feed.set_v)
        else:
            out += (0.0, feed.limit_a if mode == CURRENT else 0.0)
    out += pins
    return out


def ports(corner: Corner, state: State, scale: float) -> list[float]:
    """What bends: arguments of `step`. `scale` multiplies the constant power of the loads."""
    out: list[float] = []
    for load, mode in zip(corner.loads, state.load, strict=True):
        if mode in (ON, LOW):
            out += (scale * load.power_w, load.current_a, load.floor_v)
        else:
            out += (0.0, 0.0, 1.0)
    for feed, mode in zip(corner.feeds, state.feed, strict=True):
        if mode == POWER:
            out += (-feed.limit_w, 0.0, feed_floor_v(feed))
        else:
            out += (0.0, 0.0, 1.0)
    for converter, mode in zip(corner.converters, state.converter, strict=True):
        out += _output(converter.set_v, converter.output_ohm, converter.limit_a, mode)
        if mode == OFF:
            out += (0.0, 0.0, 0.0, 1.0)
        elif mode == PASSING:
            out += (converter.loss_w, 0.0, 0.0, input_floor_v(converter))
        else:
            share = 1.0 + converter.loss_fraction
            out += (converter.loss_w, share, converter.loss_per_w, input_floor_v(converter))
    return out


def _output(set_v: float, ohm: float, limit_a: float, mode: int) -> tuple[float, float]:
    """Norton form of a converter's own output."""
    if mode == REGULATING:
        g = conductance(ohm)
        return g, g * set_v
    return 0.0, limit_a if mode == LIMITING else 0.0
