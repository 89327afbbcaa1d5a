"""Touch voltage, negatives, idle share."""

import pytest

from ohmstead.evidence.views import DayUse, Join
from ohmstead.site.model import Run
from ohmstead.site.pieces import Draw, Endpoint
from rules.by_hand import (
    PLACE,
    converter,
    device,
    ethernet,
    evidence,
    exact,
    port,
    powered,
    run,
    severities,
    told,
)


@pytest.mark.parametrize(
    ("volts", "severity"),
    [
        (28.8, []),
        (57.0, []),
        (58.4, []),
        (59.0, ["tight"]),
        (60.5, ["fails"]),
        (119.0, ["fails"]),
        (121.0, ["danger"]),
    ],
)
def test_dry_touch_limits(outside, volts, severity):
    """60 V direct may be touched, 120 V direct ends the band."""
    outside(
        source="iec-61140",
        place="limits of extra-low voltage",
        read="second-hand",
        what="60 V and 120 V direct",
    )
    assert severities("touch-voltage-passed", evidence(highest_v=volts)) == severity


@pytest.mark.parametrize(("volts", "severity"), [(28.8, []), (31.0, ["tight"]), (54.0, ["tight"]), (60.5, ["fails"])])
def test_wet_touch_limits(outside, volts, severity):
    """30 V direct without cover in wet places."""
    outside(
        source="iec-61140",
        place="wet places, as IEC 60364-4-41 takes it up",
        read="from memory",
        what="30 V direct",
    )
    assert severities("touch-voltage-passed", evidence(touch="wet", highest_v=volts)) == severity


def join(bridged=""):
    data = Run(4, Endpoint("logger"), Endpoint("radio"), carries="data", shield="joined", place=PLACE)
    return Join(data, ("logger", "radio"), bridged)


def fed(**more):
    return evidence(runs=(run("bank", "radio"), run("bank", "logger")), **more)


def test_a_join_is_told_as_one_of_two_faults():
    loop, bridge = fed(joins=(join(),)), fed(joins=(join("radio supply"),))
    assert severities("two-negative-paths", loop) == ["tight"]
    assert told("isolation-bridged", loop) == []
    assert severities("isolation-bridged", bridge) == ["fails"]
    assert told("two-negative-paths", bridge) == []


def test_a_join_to_something_unfed_is_no_second_path():
    assert told("two-negative-paths", evidence(runs=(run("bank", "radio"),), joins=(join(),))) == []


def camera(low_state):
    draws = (Draw(low_state, exact(5.0)), Draw("night", exact(9.0)))
    return device("camera", {"draws": draws})


def day(idle):
    return DayUse(200.0, sum(idle.values()), {"camera": 168.0, "supply": 32.0}, idle)


def test_only_what_is_called_idle_counts_as_idle():
    use = day({"camera": 60.0, "supply": 12.0})
    waiting = evidence(devices=(camera("idle"),), converters=(converter(),), day=use)
    working = evidence(devices=(camera("day"),), converters=(converter(),), day=use)
    (finding,) = told("idle-share-high", waiting)
    assert finding.subject == "camera" and finding.value == pytest.approx(0.36)
    assert told("idle-share-high", working) == []


def test_a_day_without_use_has_no_share():
    assert told("idle-share-high", evidence()) == []


def test_a_source_with_something_on_its_ports_is_at_work():
    use = DayUse(200.0, 96.0, {"switch": 96.0, "camera": 104.0}, {"switch": 96.0})
    used = evidence(ethernet=(ethernet((port(1, powered()),)),), day=use)
    unused = evidence(ethernet=(ethernet(()),), day=use)
    assert told("idle-share-high", used) == []
    assert severities("idle-share-high", unused) == ["tight"]
