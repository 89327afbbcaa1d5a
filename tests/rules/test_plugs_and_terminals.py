"""Ends of runs against inlets, wires and studs."""

from dataclasses import replace

import pytest

from ohmstead.evidence.finding import Severity
from ohmstead.evidence.views import Carrier, Worst
from ohmstead.rules import (
    plug_does_not_mate,
    plug_overloaded,
    plug_polarity_reversed,
    terminal_does_not_fit_stud,
    terminal_does_not_take_wire,
)
from ohmstead.site.kinds import Busbar, Switch
from rules.made_supply import CASE, block, device, run, start, supply


def with_plug(end, inlet, **more):
    view = run("bank", "recorder", "1.5 mm2", ends=f"ring M8, {end}", **more)
    return supply((view,), (device("recorder", (view,), plug=inlet),))


@pytest.mark.parametrize(
    ("end", "inlet", "part_of_reason"),
    [
        ("barrel 5.5x2.1", "barrel 5.5x2.5", "does not go over"),
        ("barrel 5.5x2.5", "barrel 5.5x2.1", "loose"),
        ("barrel 4.0x1.7", "barrel 5.5x2.1", "outside"),
        ("tab 6.3", "barrel 5.5x2.1", "does not go onto"),
    ],
)
def test_wrong_plugs_are_told_why(end, inlet, part_of_reason):
    # Trade knowledge of 2.1 and 2.5 mm pins, from memory.
    (found,) = plug_does_not_mate.check(with_plug(end, inlet))
    assert part_of_reason in found.message and found.severity is Severity.FAILS


def test_right_plugs_and_loose_leads_are_silent():
    assert list(plug_does_not_mate.check(with_plug("barrel 5.5x2.5", "barrel 5.5x2.5 centre positive"))) == []
    assert list(plug_does_not_mate.check(with_plug("screw 2.5", "bare"))) == []
    assert list(plug_does_not_mate.check(with_plug("ferrule", "screw 2.5"))) == []


def test_polarity_is_its_own_finding_and_needs_both_sides():
    reversed_ = with_plug("barrel 5.5x2.5 centre negative", "barrel 5.5x2.5 centre positive")
    assert list(plug_does_not_mate.check(reversed_)) == []
    (found,) = plug_polarity_reversed.check(reversed_)
    assert found.severity is Severity.DANGER
    unsaid = with_plug("barrel 5.5x2.5", "barrel 5.5x2.5 centre positive")
    assert list(plug_polarity_reversed.check(unsaid)) == []


def test_a_plug_over_its_current():
    (found,) = plug_overloaded.check(with_plug("barrel 5.5x2.5", "barrel 5.5x2.5", amps=6.0))
    assert found.severity is Severity.DANGER and found.limit == 5.0
    assert list(plug_overloaded.check(with_plug("barrel 5.5x2.5", "barrel 5.5x2.5", amps=4.0))) == []


def test_the_inlet_counts_when_the_plug_is_not_stated():
    view = run("bank", "recorder", amps=6.0)
    evidence = supply((view,), (device("recorder", (view,), plug="barrel 5.5x2.1"),))
    assert [f.subject for f in plug_overloaded.check(evidence)] == ["bank -> recorder"]


def test_a_start_is_only_tight():
    peak = {"current": Worst(8.0, "recorder starts"), "pulses": (start("recorder", 8.0, 20.0),)}
    (found,) = plug_overloaded.check(with_plug("barrel 5.5x2.5", "barrel 5.5x2.5", amps=3.0, **peak))
    assert found.severity is Severity.TIGHT and "20 s" in found.message


def test_a_tab_bears_what_its_wire_lets_it():
    # UL 310 test currents, second-hand: 6.3 mm tab 10 A on 16 AWG, 15 A on 14 AWG.
    thin = run("bank", "recorder", "16 AWG", ends="ring M8, tab 6.3", amps=12.0)
    thick = run("bank", "recorder", "14 AWG", ends="ring M8, tab 6.3", amps=12.0)
    (found,) = plug_overloaded.check(supply((thin,)))
    assert found.limit == 10.0
    assert list(plug_overloaded.check(supply((thick,)))) == []


def test_terminals_and_the_wire_they_take():
    too_thick = supply((run("bank", "lamps", "6 mm2", ends="ring M8, screw 2.5"),))
    (found,) = terminal_does_not_take_wire.check(too_thick)
    assert found.limit == 2.5 and "screw terminal 6" in found.mend
    unknown = supply((run("bank", "lamps", "6 mm2", ends="ring M8, screw"),))
    assert list(terminal_does_not_take_wire.check(unknown)) == []
    too_thin = supply((run("bank", "lamps", "1.5 mm2", ends="ring M10, ferrule"),))
    (found,) = terminal_does_not_take_wire.check(too_thin)
    assert found.limit == 4.0 and found.margin_fraction < 0


def on_switch(*ends):
    part = Switch("main switch", stud_mm=8.0)
    view = run("bank", "main switch", "10 mm2", ends=", ".join(ends))
    return supply((view,), switches=(Carrier(part, part.name, part.place, Worst(5.0, CASE), 28.4, 24.0),))


@pytest.mark.parametrize(("ring", "words"), [("ring M6", "does not go over"), ("ring M10", "loose")])
def test_rings_smaller_and_larger_than_the_stud(ring, words):
    (found,) = terminal_does_not_fit_stud.check(on_switch("ring M8", ring))
    assert words in found.message and found.margin_fraction < 0


def test_a_fitting_ring_and_a_ferrule_on_a_stud():
    assert list(terminal_does_not_fit_stud.check(on_switch("ring M10", "ring M8"))) == []
    (found,) = terminal_does_not_fit_stud.check(on_switch("ring M8", "ferrule"))
    assert "does not hold" in found.message


def test_busbars_have_small_screws_and_ways_have_no_stud():
    part = Busbar("bar", stud_mm=8.0)
    view = run("bank", "bar", "10 mm2", ends="ring M8, ferrule")
    bar = Carrier(part, part.name, part.place, Worst(5.0, CASE), 28.4, 24.0)
    assert list(terminal_does_not_fit_stud.check(supply((view,), busbars=(bar,)))) == []
    way = run("fuse block / 1", "lamps", ends="tab 6.3, ferrule")
    fuses = replace(block("fuse block", 4, {1: 3.0}, stud_mm=6.0))
    assert list(terminal_does_not_fit_stud.check(supply((way,), blocks=(fuses,)))) == []
