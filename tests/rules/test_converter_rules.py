"""Converters: one cause, one finding, and silence where nothing is wrong."""

from dataclasses import replace

import pytest

from ohmstead.site.pieces import Lockout
from rules.by_hand import (
    at,
    battery,
    converter,
    device,
    evidence,
    exact,
    margin,
    run,
    severities,
    stated,
    told,
    window,
)

SLUGS = (
    "converter-locked-out",
    "converter-input-too-high",
    "lockout-hunting",
    "converter-overloaded",
    "converter-overloaded-when-hot",
    "converter-at-its-current-limit",
    "supply-collapses",
    "input-filter-unstable",
    "boost-passes-input",
    "buck-in-dropout",
)


def converters(*views):
    return evidence(converters=views, runs=(run("bank", "supply"),))


@pytest.mark.parametrize("slug", SLUGS)
def test_a_converter_in_order_is_left_alone(slug):
    assert told(slug, converters(converter())) == []


def test_locked_out_names_voltage_limit_case_and_a_wire():
    wide = converter({"lockout": Lockout(22.5, 24.5)}, locked_out=at(22.1), input_lowest=at(22.1), output_w=at(60.0))
    supply = run("bank", "supply", loop_hot_ohm=0.4, current=at(4.0))
    (finding,) = told("converter-locked-out", evidence(converters=(wide,), runs=(supply,)))
    assert finding.severity == "fails" and finding.case == "low-hot-busy"
    assert "22.1 V" in finding.message and "22.5 V" in finding.message
    assert "mm²" in finding.mend


def test_a_victim_is_not_blamed():
    view = converter(locked_out=at(17.0), input_lowest=at(17.0), victim_of="net supply")
    assert told("converter-locked-out", converters(view)) == []
    assert told("lockout-hunting", converters(view)) == []


def test_hunting_takes_over_from_locked_out():
    narrow = converter(
        {"lockout": Lockout(22.5, 22.8)},
        locked_out=at(22.1),
        input_lowest=at(22.1),
        output_w=at(90.0),
        source_ohm=0.4,
    )
    assert severities("lockout-hunting", converters(narrow)) == ["fails"]
    assert told("converter-locked-out", converters(narrow)) == []


def test_rebound_below_the_gap_is_no_hunting():
    wide = converter(
        {"lockout": Lockout(22.5, 24.4)},
        locked_out=at(22.1),
        input_lowest=at(22.1),
        output_w=at(60.0),
        source_ohm=0.4,
    )
    assert told("lockout-hunting", converters(wide)) == []
    assert severities("converter-locked-out", converters(wide)) == ["fails"]


def test_collapse_is_told_once():
    view = converter(locked_out=at(13.0), input_lowest=at(13.0), source_ohm=1.0)
    found = replace(converters(view), margin=margin(0.8, "supply"))
    assert severities("supply-collapses", found) == ["fails"]
    assert told("converter-locked-out", found) == []


def test_dropping_out_above_the_lockout_is_a_collapse():
    """It gave up at 20 V though it works down to 18 V: no operating point, 24²/(4·2 Ω) = 72 W can pass."""
    view = converter(locked_out=at(20.0), input_lowest=at(20.0), output_peak_w=at(90.0), source_ohm=2.0)
    (finding,) = told("supply-collapses", converters(view))
    assert finding.limit == pytest.approx(72.0) and finding.value == pytest.approx(100.0)
    assert told("converter-locked-out", converters(view)) == []


def test_a_device_that_drops_out_behind_a_current_limit_is_told_at_the_limit():
    view = converter({"limit_a": 5.0}, output_peak_w=at(115.0, "low-hot-start-up-recorder"))
    recorder = device("recorder", {"input_v": window(9, 13)}, fed_by="supply", browned_out=at(11.9))
    found = evidence(converters=(view,), devices=(recorder,), runs=(run("bank", "supply"),))
    assert told("supply-collapses", found) == []
    assert severities("converter-at-its-current-limit", found) == ["fails"]
    direct = replace(found, converters=(), devices=(replace(recorder, fed_by="bank"),))
    assert severities("supply-collapses", direct) == ["fails"]


def test_input_between_window_and_lockout_is_below_its_window():
    view = converter({"lockout": Lockout(16.0, 17.0)}, input_lowest=at(17.5))
    (finding,) = told("converter-locked-out", converters(view))
    assert finding.limit == 18.0 and finding.severity == "fails"


def test_close_to_the_lockout_is_tight():
    assert severities("converter-locked-out", converters(converter(input_lowest=at(18.3)))) == ["tight"]


def test_a_start_that_pulls_the_input_down_fails():
    # 24 V behind 1 Ω: 119 W of start-up leave 24/2 + √(144 - 119) = 17 V, below the lockout at 18 V
    view = converter({"start_w": 119.0}, source_ohm=1.0)
    (finding,) = told("lockout-hunting", converters(view))
    assert finding.severity == "fails" and finding.value == pytest.approx(17.0)


def test_a_lockout_that_alone_ends_the_discharge_is_tight():
    hunting = converter(rebound_v=1.5)
    unguarded = evidence(converters=(hunting,), batteries=(battery(guarded=""),))
    assert severities("lockout-hunting", unguarded) == ["tight"]
    assert told("lockout-hunting", converters(hunting)) == []


def test_input_above_the_window_is_a_danger():
    high = converter(input_highest=at(37.0, "equalising-cold-bare"))
    (finding,) = told("converter-input-too-high", converters(high))
    assert finding.severity == "danger" and finding.case == "equalising-cold-bare"


def test_behind_a_passing_boost_only_the_boost_is_told():
    boost = converter({"name": "boost", "type": "boost", "output_v": exact(24.0)}, input_highest=at(28.8))
    behind = converter({"input_v": window(9, 26), "lockout": None}, input_highest=at(28.8))
    feed = run("boost", "supply", fed_by="boost", fed_kind="converter")
    found = evidence(converters=(boost, behind), runs=(run("bank", "boost"), feed))
    assert told("converter-input-too-high", found) == []
    (finding,) = told("boost-passes-input", found)
    assert finding.severity == "danger" and "supply may get 26 V at most" in finding.message


def test_what_a_passing_boost_feeds_decides_its_gravity():
    boost = converter({"type": "boost", "output_v": exact(24.0)})
    bears = device(part={"input_v": window(20, 32)}, fed_by="supply")
    harmed = device("radio", part={"input_v": window(20, 26)}, fed_by="supply")
    unknown = device("pump", fed_by="supply")
    for behind, severity in (
        ((bears,), "tight"),
        ((bears, unknown), "fails"),
        ((bears, harmed, unknown), "danger"),
    ):
        found = evidence(converters=(boost,), devices=behind)
        assert severities("boost-passes-input", found) == [severity]
    assert told("boost-passes-input", evidence(converters=(converter({"type": "buck-boost"}),))) == []


def test_overload_is_told_once():
    limits = {"limit_a": 9.0}
    over = converter(limits, output_w=at(120.0), output_peak_w=at(130.0), limited="low-hot-busy", derated_w=70.0)
    found = converters(over)
    assert severities("converter-overloaded", found) == ["fails"]
    assert told("converter-overloaded-when-hot", found) == []
    assert told("converter-at-its-current-limit", found) == []


def test_a_start_over_the_rating_is_for_the_limit_to_judge():
    peak = dict(output_w=at(40.0), output_peak_w=at(130.0, "low-hot-start-up-pump"))
    assert severities("converter-overloaded", converters(converter(**peak))) == ["tight"]
    held = converter({"limit_a": 12.0}, **peak)
    assert told("converter-overloaded", converters(held)) == []
    assert told("converter-at-its-current-limit", converters(held)) == []
    limited = converter({"limit_a": 9.0}, limited="low-hot-start-up-pump", **peak)
    (finding,) = told("converter-at-its-current-limit", converters(limited))
    assert finding.value == pytest.approx(130 / 12) and finding.limit == 9.0


def test_over_nine_tenths_is_tight():
    assert severities("converter-overloaded", converters(converter(output_w=at(91.0), output_peak_w=at(91.0)))) == [
        "tight"
    ]


def test_a_derating_that_nobody_stated_only_warns():
    hot = dict(output_w=at(80.0), derated_w=60.0, ambient_c=64.0)
    assumed = converter({"full_until_c": 50.0, "nothing_at_c": 85.0}, **hot)
    said = converter({"full_until_c": 50.0, "nothing_at_c": 85.0, "origin": stated("full_until_c")}, **hot)
    assert severities("converter-overloaded-when-hot", converters(assumed)) == ["tight"]
    assert severities("converter-overloaded-when-hot", converters(said)) == ["fails"]


@pytest.mark.parametrize(("factor", "severity"), [(0.7, ["fails"]), (1.1, ["tight"]), (1.25, []), (3.0, [])])
def test_loading_margin(factor, severity):
    found = replace(converters(converter()), margin=margin(factor, "supply"))
    assert severities("supply-collapses", found) == severity


def test_greatest_power_that_can_pass(outside):
    """10.5 V behind 0.10 Ω: a source and a resistance pass at most U²/(4·R)."""
    view = converter(source_v=10.5, source_ohm=0.10)
    (finding,) = told("supply-collapses", replace(converters(view), margin=margin(0.98, "supply")))
    most_w = finding.numbers["greatest"].value
    outside(
        source="remote-powering-handbook",
        place="line limit, form above 2·U_min",
        read="second-hand",
        what="greatest power through a line",
        deviation=abs(most_w / 275.6 - 1),
    )
    assert most_w == pytest.approx(275.6, rel=1e-3)


def test_a_margin_that_a_current_limit_sets_is_no_collapse():
    view = converter({"limit_a": 4.0}, output_peak_w=at(42.0), output_w=at(42.0))
    recorder = device("recorder", fed_by="supply")
    runs = (run("bank", "supply"), run("supply", "recorder", fed_by="supply", fed_kind="converter"))
    found = evidence(converters=(view,), devices=(recorder,), runs=runs, margin=margin(1.14, "recorder"))
    assert told("supply-collapses", found) == []
    roomy = converter({"limit_a": 8.0}, output_peak_w=at(42.0), output_w=at(42.0))
    assert severities("supply-collapses", replace(found, converters=(roomy,))) == ["tight"]


def test_a_buck_that_follows_is_grave_only_when_a_device_minds():
    buck = converter({"input_v": window(8, 36), "lockout": None}, passing="low-hot-busy", input_lowest=at(11.2))
    bears = device(part={"input_v": window(9, 15)}, fed_by="supply", lowest=at(11.0))
    minds = device("router", part={"input_v": window(11.4, 12.6)}, fed_by="supply", lowest=at(11.0))
    assert severities("buck-in-dropout", evidence(converters=(buck,), devices=(bears,))) == ["tight"]
    assert severities("buck-in-dropout", evidence(converters=(buck,), devices=(bears, minds))) == ["fails"]
    both_ways = converter({"type": "buck-boost"}, passing="low-hot-busy", input_lowest=at(11.2))
    assert told("buck-in-dropout", evidence(converters=(both_ways,))) == []
