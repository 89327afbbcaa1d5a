"""Devices below and above their window: who owns the cause, and what helps."""

from ohmstead.evidence.finding import Severity
from ohmstead.evidence.views import Margin, Worst
from ohmstead.rules import voltage_too_high, voltage_too_low
from rules.made_supply import CASE, battery, converter, device, run, supply

LINE = run("bank", "recorder", "1.5 mm2", 8.0, amps=4.0)  # loses 0.96 V


def low(**more):
    evidence = more.pop("evidence", {})
    return list(voltage_too_low.check(supply((LINE,), (device("recorder", (LINE,), "23.2..32", **more),), **evidence)))


def test_below_the_window_names_the_wire():
    (found,) = low()
    assert found.severity is Severity.FAILS and found.case == CASE
    assert found.value < found.limit == 23.2
    assert found.mend.startswith("lay ") and "bank -> recorder" in found.mend


def test_a_source_that_low_is_beyond_any_wire():
    drained = run("bank", "recorder", "1.5 mm2", 8.0, amps=4.0, source_low=Worst(23.0, CASE))
    (found,) = voltage_too_low.check(supply((drained,), (device("recorder", (drained,), "23.2..32"),)))
    assert "no wire helps" in found.mend


def test_a_victim_is_not_blamed():
    assert low(victim_of="bigger load") == []


def test_a_collapse_is_told_once():
    assert low(evidence={"margin": Margin(0.8, "recorder", CASE)}) == []
    assert len(low(evidence={"margin": Margin(0.8, "other", CASE)})) == 1


def test_a_little_above_is_tight_when_worse_joints_take_it_below():
    (found,) = low(lowest=Worst(23.25, CASE))
    assert found.severity is Severity.TIGHT
    assert low(lowest=Worst(23.6, CASE)) == []


def test_a_converter_in_its_limit_owns_the_sag():
    line = run(
        "supply",
        "recorder",
        "1.5 mm2",
        2.0,
        amps=4.0,
        fed_by="supply",
        fed_kind="converter",
        source_low=Worst(15.0, CASE),
    )
    recorder = device("recorder", (line,), "18..20", lowest=Worst(14.8, CASE), fed_by="supply")
    limited = converter("supply", 19.0, limited=CASE)
    assert list(voltage_too_low.check(supply((line,), (recorder,), converters=(limited,)))) == []
    healthy = converter("supply", 19.0)
    assert len(list(voltage_too_low.check(supply((line,), (recorder,), converters=(healthy,))))) == 1


def test_no_window_no_verdict():
    assert list(voltage_too_low.check(supply((LINE,), (device("recorder", (LINE,)),)))) == []
    assert list(voltage_too_high.check(supply((LINE,), (device("recorder", (LINE,)),)))) == []


def high(window, highest_v, case="charging-cold-bare", **more):
    recorder = device("recorder", (LINE,), window, highest=Worst(highest_v, case))
    return list(voltage_too_high.check(supply((LINE,), (recorder,), **more)))


def test_charging_and_equalising_are_told_apart():
    assert "is charged" in high("18..28", 28.4)[0].message
    equalised = battery(equalising_v=30.0, high_v=30.0)
    assert "is equalised" in high("18..29", 30.0, "equalising-cold-bare", batteries=(equalised,))[0].message
    assert "already when it is full" in high("18..26", 28.4)[0].message


def test_just_inside_is_tight_and_well_inside_is_silent():
    assert high("18..28.5", 28.4)[0].severity is Severity.TIGHT
    assert high("18..30", 28.4) == []
    assert high("18..28", 28.4)[0].severity is Severity.DANGER


def test_a_boost_that_passes_its_input_owns_the_cause():
    line = run("supply", "recorder", fed_by="supply", fed_kind="converter")
    recorder = device("recorder", (line,), "18..20", highest=Worst(28.2, "charging"), fed_by="supply")
    passing = converter("supply", 19.0, type="boost", passing="charging")
    assert list(voltage_too_high.check(supply((line,), (recorder,), converters=(passing,)))) == []


def test_a_converter_is_set_lower_by_its_tolerance():
    line = run("supply", "recorder", fed_by="supply", fed_kind="converter")
    recorder = device("recorder", (line,), "18..19.2", highest=Worst(19.38, CASE), fed_by="supply")
    (found,) = voltage_too_high.check(supply((line,), (recorder,), converters=(converter("supply", 19.0),)))
    # 19.2 V, less 1 % for the meter, less the converter's own 2 %: 18.6 V.
    assert "18.6 V" in found.mend
