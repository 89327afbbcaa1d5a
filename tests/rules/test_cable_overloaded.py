"""Ampacity at its place; starts by their heat."""

from ohmstead.evidence.finding import Severity
from ohmstead.evidence.views import FuseView
from ohmstead.parts.fuse import read_fuse
from ohmstead.rules import cable_overloaded, insulation_below_place
from ohmstead.site.pieces import LaidAs
from rules.made_supply import PLACE, run, start, supply


def found(view, **more):
    return list(cable_overloaded.check(supply((view,), **more)))


def hot(amps, **more):
    """4 mm² XLPE in trunking with three circuits in 60 °C air: 42 A · 0.707 · 0.70 = 20.8 A."""
    return run("bank", "pump", "4 mm2 XLPE", amps=amps, ambient_c=60.0, laid=LaidAs("in trunking", 3), **more)


def test_roof_space_example():
    # Factors of IEC 60364-5-52, second-hand: XLPE at 60 °C 0.71, three circuits 0.70, B1 42 A.
    (over,) = found(hot(21.5))
    assert over.severity is Severity.DANGER and abs(over.limit - 42 * 0.71 * 0.70) < 0.1
    assert "mm²" in over.mend
    assert found(hot(20.5))[0].severity is Severity.TIGHT
    assert found(hot(15.0)) == []


def test_us_rules_ask_for_a_quarter_more():
    # NFPA 70, 310.16, second-hand: 12 AWG 75 °C bears 25 A; a continuous load may take 20 A.
    def wire(amps):
        return run("bank", "pump", "12 AWG 75 °C", amps=amps, rules="US")

    assert found(wire(21.0), rules="US")[0].severity is Severity.TIGHT
    assert found(wire(19.5), rules="US") == []
    assert found(wire(25.5), rules="US")[0].severity is Severity.DANGER


def test_a_fuse_certain_to_open_turns_danger_into_failure():
    small = FuseView(read_fuse("10 A blade"), "bank -> pump", 10.0, 30.0, 7.5, None, 0.1, PLACE)
    assert found(hot(22.0, guard=small))[0].severity is Severity.FAILS
    large = FuseView(read_fuse("20 A blade"), "bank -> pump", 20.0, 30.0, 15.0, None, 0.1, PLACE)
    assert found(hot(22.0, guard=large))[0].severity is Severity.DANGER


def test_air_as_hot_as_the_insulation_is_told_once():
    roof = run("bank", "pump", "2.5 mm2 PVC", amps=3.0, ambient_c=71.0)
    assert found(roof) == []
    assert [f.rule for f in insulation_below_place.check(supply((roof,)))] == ["insulation-below-place"]


def test_a_short_start_is_forgiven_and_a_long_one_is_not():
    # 1.5 mm² PVC in trunking bears 17.5 A and warms with a time constant near a minute.
    def line(amps, seconds):
        return run("bank", "pump", "1.5 mm2", amps=8.0, pulses=(start("pump", amps, seconds),))

    assert found(line(40.0, 2.0)) == []
    (warm,) = found(line(40.0, 25.0))
    assert warm.severity is Severity.TIGHT and warm.dimension == "temperature"
    (burnt,) = found(line(70.0, 40.0))
    assert burnt.severity is Severity.DANGER
