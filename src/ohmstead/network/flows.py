"""Currents of a solved batch by the elements' laws, and Kirchhoff's law checked with them."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from .elements import Network, OperatingPoint
from .lanes import Figures, conductance, feed_floor_v, floor_v
from .state import CURRENT, HOLDING, IDLE, LIMITING, ON, PASSING, POWER, REGULATING

Array = Any


@dataclass(frozen=True, slots=True)
class Flows:
    """Currents, one row an element and one column a case."""

    branch_a: Array
    source_a: Array
    load_a: Array
    converter_in_a: Array
    converter_out_a: Array
    feed_a: Array

    def part(self, which: slice) -> "Flows":
        """Some of the cases, as a view."""
        return Flows(*[getattr(self, name)[:, which] for name in self.__slots__])

    def place(self, k: int, point: OperatingPoint) -> None:
        """Take over one case that was solved alone."""
        self.branch_a[:, k] = point.branch_a
        self.source_a[:, k] = point.source_a
        self.load_a[:, k] = point.load_a
        self.converter_in_a[:, k] = point.converter_in_a
        self.converter_out_a[:, k] = point.converter_out_a
        self.feed_a[:, k] = point.feed_a


def empty_flows(network: Network, n_case: int) -> Flows:
    """Room for the currents of a batch."""
    return Flows(*[np.zeros((n, n_case)) for n in _sizes(network)])


def fill(out: Flows, network: Network, figures: Figures, v: Array, modes: tuple[Array, Array, Array]) -> None:
    """All currents at the node voltages `v` (node, case); modes of loads, converters, chargers by case."""
    load_mode, converter_mode, feed_mode = modes
    c = figures.columns
    for i, branch in enumerate(network.branches):
        out.branch_a[i] = (v[branch.start] - v[branch.end]) * conductance(c["branch_ohm"][i])
    for i, source in enumerate(network.sources):
        drop_v = c["source_v"][i] - v[source.positive] + v[source.negative]
        out.source_a[i] = drop_v * conductance(c["source_ohm"][i])
    for i, load in enumerate(network.loads):
        volts, least_v = v[load.positive] - v[load.negative], figures.corner.loads[i].floor_v
        held = np.maximum(volts, least_v)
        law_a = (c["load_w"][i] / held + c["load_a"][i]) * volts / held
        out.load_a[i] = np.where(load_mode[:, i] == ON, law_a, 0.0) + c["load_s"][i] * np.where(
            load_mode[:, i] != 0, volts, 0.0
        )
    for i, element in enumerate(network.converters):
        law, mode = figures.corner.converters[i], converter_mode[:, i]
        in_v = v[element.input_positive] - v[element.input_negative]
        out_v = v[element.output_positive] - v[element.output_negative]
        held_a = (c["set_v"][i] - out_v) * conductance(law.output_ohm)
        through_a = np.where(mode == PASSING, (in_v - law.pass_drop_v - out_v) * conductance(law.pass_ohm), 0.0)
        own_a = np.where(mode == REGULATING, held_a, 0.0)
        own_a = np.where(mode == LIMITING, c["limit_a"][i], own_a)
        p = own_a * out_v
        power_w = c["loss_w"][i] + p * (1.0 + law.loss_fraction + law.loss_per_w * p)
        high_v = np.maximum(in_v, floor_v(figures, i))
        awake = np.isin(mode, (REGULATING, LIMITING, PASSING, IDLE))
        out.converter_in_a[i] = through_a + np.where(awake, power_w * in_v / (high_v * high_v), 0.0)
        out.converter_out_a[i] = own_a + through_a
    for i, feed in enumerate(network.feeds):
        mode = feed_mode[:, i]
        volts = v[feed.positive] - v[feed.negative]
        held_a = (c["feed_v"][i] - volts) * conductance(figures.corner.feeds[i].output_ohm)
        high_v = np.maximum(volts, feed_floor_v(figures, i))
        a = np.where(mode == HOLDING, held_a, 0.0)
        a = np.where(mode == CURRENT, c["feed_a"][i], a)
        with np.errstate(invalid="ignore"):
            out.feed_a[i] = np.where(mode == POWER, c["feed_w"][i] * volts / (high_v * high_v), a)


def residual_a(network: Network, flow: Flows) -> Array:
    """The largest violation of Kirchhoff's current law in each case."""
    total = np.zeros((len(network.nodes), flow.branch_a.shape[1]))

    def move(a: Array, start: int, end: int) -> None:
        total[start] += a
        total[end] -= a

    for a, branch in zip(flow.branch_a, network.branches, strict=True):
        move(a, branch.start, branch.end)
    for a, load in zip(flow.load_a, network.loads, strict=True):
        move(a, load.positive, load.negative)
    for a, source in zip(flow.source_a, network.sources, strict=True):
        move(a, source.negative, source.positive)
    for a, feed in zip(flow.feed_a, network.feeds, strict=True):
        move(a, feed.negative, feed.positive)
    for taken, given, c in zip(flow.converter_in_a, flow.converter_out_a, network.converters, strict=True):
        move(taken, c.input_positive, c.input_negative)
        move(given, c.output_negative, c.output_positive)
    return np.abs(total).max(axis=0)


def _sizes(network: Network) -> tuple[int, ...]:
    n_converter = len(network.converters)
    return (
        len(network.branches),
        len(network.sources),
        len(network.loads),
        n_converter,
        n_converter,
        len(network.feeds),
    )
