"""Blocks, ways, switches, air and small-craft sizes."""

from dataclasses import replace

import pytest

from ohmstead.evidence.finding import Severity
from ohmstead.evidence.views import Carrier, FuseView, Worst
from ohmstead.parts.fuse import read_fuse
from ohmstead.rules import (
    block_overloaded,
    block_voltage_low,
    choice_left_open,
    conductor_too_thin_for_mechanics,
    device_too_warm,
    switch_overloaded,
    switch_voltage_low,
    way_overloaded,
    ways_missing,
)
from ohmstead.site.kinds import Switch
from rules.made_supply import CASE, PLACE, block, device, run, supply


def fused(start, end, **more):
    view = run(start, end, **more)
    return replace(view, own_fuse=FuseView(read_fuse("5 A blade"), view.name, 5.0, 30.0, 3.75, None, 0.0, PLACE))


def severities(rule, **more):
    return [found.severity for found in rule.check(supply(**more))]


def test_block_total_and_ways():
    full = block("fuse block", 4, {1: 20.0, 2: 12.0}, total_a=30.0, per_way_a=15.0)
    (over,) = block_overloaded.check(supply(blocks=(full,)))
    assert over.value == 32.0 and "way 1 is the busiest" in over.mend
    (way,) = way_overloaded.check(supply(blocks=(full,)))
    assert way.subject == "fuse block / 1" and way.severity is Severity.DANGER
    assert severities(block_overloaded, blocks=(block("b", 4, {1: 20.0}),)) == []


@pytest.mark.parametrize(("amps", "expected"), [(14.0, []), (14.5, [Severity.TIGHT]), (15.2, [Severity.DANGER])])
def test_way_near_its_rating(amps, expected):
    assert severities(way_overloaded, blocks=(block("b", 4, {1: amps}, per_way_a=15.0),)) == expected


def test_more_circuits_than_ways():
    runs = tuple(fused(f"fuse block / {n}", f"lamp {n}") for n in (1, 2)) + (fused("fuse block", "radio"),)
    (found,) = ways_missing.check(supply(runs, blocks=(block("fuse block", 2, {1: 1.0, 2: 1.0}),)))
    assert (found.value, found.limit) == (3, 2) and "radio" in found.mend
    assert severities(ways_missing, runs=runs, blocks=(block("fuse block", 3, {1: 1.0}),)) == []


def test_a_tap_without_fuse_needs_no_way_and_two_fuses_do_not_share_one():
    tap = run("fuse block", "second block")
    runs = (fused("fuse block / 1", "lamp"), tap)
    assert severities(ways_missing, runs=runs, blocks=(block("fuse block", 1, {1: 1.0}),)) == []
    shared = (fused("fuse block / 1", "lamp"), fused("fuse block / 1", "pump"))
    (found,) = ways_missing.check(supply(shared, blocks=(block("fuse block", 2, {1: 2.0}),)))
    assert "way 2 is free" in found.mend
    one_fuse = (fused("fuse block / 1", "lamp"), run("fuse block / 1", "lamp 2"))
    assert severities(ways_missing, runs=one_fuse, blocks=(block("fuse block", 2, {1: 2.0}),)) == []


def test_voltages_of_blocks_and_switches():
    assert severities(block_voltage_low, blocks=(block("b", 4, {}, voltage_v=24.0),)) == [Severity.FAILS]
    assert severities(block_voltage_low, blocks=(block("b", 4, {}, voltage_v=32.0),)) == []
    part = Switch("main", rating_a=50.0, voltage_v=24.0)
    carrier = Carrier(part, "main", PLACE, Worst(51.0, CASE), 28.4, 24.0)
    assert severities(switch_voltage_low, switches=(carrier,)) == [Severity.DANGER]
    assert severities(switch_overloaded, switches=(carrier,)) == [Severity.DANGER]
    unstated = replace(carrier, part=Switch("main"))
    assert severities(switch_voltage_low, switches=(unstated,)) == []


@pytest.mark.parametrize(("limit_c", "expected"), [(25.0, [Severity.FAILS]), (33.0, [Severity.TIGHT]), (40.0, [])])
def test_air_of_a_device(limit_c, expected):
    view = run("bank", "logger")
    assert severities(device_too_warm, devices=(device("logger", (view,), warm_limit_c=limit_c),)) == expected


@pytest.mark.parametrize(
    ("wire", "sheathed", "amps", "fires"),
    [
        # ISO 10133, second-hand: 1 mm² single, 0.75 mm² in a sheath. 33 CFR 183.425: 16 and 18 AWG.
        ("0.75 mm2", "no", 0.5, 1),
        ("0.75 mm2", "yes", 0.5, 0),
        ("0.5 mm2", "yes", 0.5, 1),
        ("1 mm2", "no", 5.0, 0),
        ("18 AWG", "no", 2.0, 1),
        ("18 AWG", "no", 0.5, 0),
        ("18 AWG", "yes", 2.0, 0),
        ("16 AWG", "no", 5.0, 0),
        ("16 gauge SAE", "no", 5.0, 0),
    ],
)
def test_least_conductor_in_small_craft(wire, sheathed, amps, fires):
    view = run("bank", "lamps", wire, amps=amps, sheathed=sheathed)
    assert len(severities(conductor_too_thin_for_mechanics, runs=(view,), rules="small craft")) == fires
    assert severities(conductor_too_thin_for_mechanics, runs=(view,)) == []


def test_open_choices_say_what_stands_in():
    choices = (("bank -> lamps", "wire", PLACE), ("bank -> lamps", "fuse", PLACE), ("x", "something", PLACE))
    wire, fuse, other = choice_left_open.check(supply(open_choices=choices))
    assert "16 mm2 stands in" in wire.message and "having none" in fuse.message
    assert wire.severity is Severity.TIGHT and "nothing is judged" in other.message
