"""Drop is told once: on the feeder when it alone is over the limit, else on the way to what suffers."""

from ohmstead.evidence.finding import Severity
from ohmstead.evidence.views import Worst
from ohmstead.rules import drop_on_path, drop_on_run, voltage_too_low
from rules.made_supply import CASE, converter, device, run, supply

FEEDER = run("bank", "fuse block", "2.5 mm2", 10.0, amps=9.0)  # 1.6 V of 25.6 V
TAIL = run("fuse block / 1", "lamps", "2.5 mm2", 1.0, amps=4.0, upstream=("bank -> fuse block",))


def spoken(evidence):
    return [(f.rule, f.subject, f.severity) for rule in (drop_on_run, drop_on_path) for f in rule.check(evidence)]


def test_feeder_owns_the_drop_of_all_behind_it():
    lamps, pump = device("lamps", (FEEDER, TAIL)), device("pump", (FEEDER,))
    found = spoken(supply((FEEDER, TAIL), (lamps, pump)))
    assert found == [("drop-on-run", "bank -> fuse block", Severity.TIGHT)]


def test_a_limit_that_the_builder_set_is_broken_and_the_usual_one_advises():
    lamps = device("lamps", (FEEDER, TAIL), "18..32")
    assert spoken(supply((FEEDER, TAIL), (lamps,)))[0][2] is Severity.TIGHT
    assert spoken(supply((FEEDER, TAIL), (lamps,), drop_limit_how="stated"))[0][2] is Severity.FAILS


def test_in_small_craft_a_tenth_is_required():
    """ISO 13297, second-hand: 10 % for circuits that are not critical. The feeder loses 1.6 V of 25.6 V, 6 %."""
    assert spoken(supply((FEEDER,), rules="small craft"))[0][2] is Severity.TIGHT
    longer = run("bank", "fuse block", "2.5 mm2", 20.0, amps=9.0)
    assert spoken(supply((longer,), rules="small craft"))[0][2] is Severity.FAILS


def test_device_below_its_window_speaks_instead():
    lamps = device("lamps", (FEEDER, TAIL), "23..32")
    evidence = supply((FEEDER, TAIL), (lamps,))
    assert spoken(evidence) == []
    (found,) = voltage_too_low.check(evidence)
    assert found.severity is Severity.FAILS and "bank -> fuse block" in found.mend


def test_two_halves_of_a_way_add_up():
    # 3 % and 3 % are 6 % of a way, though neither run is over 5 % by itself.
    first = run("bank", "fuse block", "2.5 mm2", 5.0, amps=8.0)
    second = run("fuse block / 1", "lamps", "2.5 mm2", 5.0, amps=8.0)
    (found,) = drop_on_path.check(supply((first, second), (device("lamps", (first, second)),)))
    assert found.subject == "lamps"
    assert abs(found.value - (first.drop.value + second.drop.value) / 25.6) < 1e-9


def test_way_to_a_converter_counts_as_well():
    first = run("bank", "fuse block", "2.5 mm2", 5.0, amps=8.0)
    second = run("fuse block / 1", "radio supply", "2.5 mm2", 5.0, amps=8.0, upstream=(first.name,))
    supply_view = converter("radio supply", 13.8)
    evidence = supply((first, second), converters=(supply_view,))
    assert [f.subject for f in drop_on_path.check(evidence)] == ["radio supply"]
    locked = converter("radio supply", 13.8, locked_out=Worst(17.0, CASE))
    assert list(drop_on_path.check(supply((first, second), converters=(locked,)))) == []


def test_limit_is_a_share_of_the_feeding_source_not_of_the_battery():
    # 0.5 V behind a 5 V converter is 10 %, behind a 25.6 V battery 2 %.
    last = run(
        "tiny supply",
        "sensor",
        "1.5 mm2",
        10.0,
        amps=1.6,
        fed_by="tiny supply",
        fed_kind="converter",
        supply_v=5.0,
    )
    sensor = device("sensor", (last,), supply_v=5.0)
    assert [f.subject for f in drop_on_path.check(supply((last,), (sensor,)))] == ["sensor"]


def test_network_cable_and_chargers_are_left_alone():
    charging = run("mains charger", "fuse block", "2.5 mm2", 10.0, amps=20.0, fed_kind="charger")
    camera_run = run("bank", "camera", "1.5 mm2", 30.0, amps=3.0)
    camera = device("camera", (camera_run,), over="passive ethernet")
    assert spoken(supply((charging, camera_run), (camera,))) == []


def test_the_named_wire_brings_the_way_inside():
    lamps_run = run("bank", "lamps", "1.5 mm2", 9.0, amps=6.0)
    (found,) = drop_on_path.check(supply((lamps_run,), (device("lamps", (lamps_run,)),)))
    # 18 m at 50 °C and 6 A, IEC 60228 class 5: 1.5 mm² loses 1.6 V, 2.5 mm² 0.96 V; 1.28 V are allowed.
    assert abs(found.value * 25.6 - 18e-3 * 13.3 * 1.118 * 6) < 0.02
    assert found.mend.startswith("lay 2.5 mm²")
