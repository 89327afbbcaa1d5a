"""Power over network cable: budget, class, volts at both ends, passive against standard."""

from dataclasses import replace

import pytest

from ohmstead.wiring.ethernet import power_class
from rules.by_hand import (
    at,
    cable,
    device,
    ethernet,
    evidence,
    port,
    powered,
    run,
    severities,
    stated,
    told,
    window,
)

SLUGS = (
    "ethernet-budget-exceeded",
    "ethernet-class-over-port",
    "ethernet-port-voltage-low",
    "ethernet-device-voltage-low",
    "ethernet-device-voltage-high",
    "passive-into-standard",
    "ethernet-run-too-long",
    "ethernet-cable-copper-clad",
    "ethernet-contacts-overloaded",
)


def site(view, length_m=30.0, text="Cat5e 24 AWG", highest=54.6, lowest=52.0, **cable_more):
    """Every port's device and cable beside the view of its source."""
    runs = tuple(
        run(
            f"switch / {p.port}",
            p.device.name,
            cable(text, length_m, **cable_more),
            name=p.run,
            fed_by="switch",
            fed_kind="ethernet power source",
            sustained=at(p.current_a),
        )
        for p in view.ports
    )
    devices = tuple(
        replace(device(p.device.name), device=p.device, lowest=at(lowest), highest=at(highest)) for p in view.ports
    )
    return evidence(ethernet=(view,), runs=runs, devices=devices)


@pytest.mark.parametrize("slug", SLUGS)
def test_a_camera_in_order_is_left_alone(slug):
    assert told(slug, site(ethernet((port(1, powered(class_=3)),)))) == []


def test_budget_ends_at_a_port():
    ports = tuple(port(n, powered(f"camera {n}", watts=12.0, class_=3)) for n in (3, 1, 2))
    (finding,) = told("ethernet-budget-exceeded", site(ethernet(ports, {"budget_w": 30.0})))
    assert finding.severity == "fails" and "port 3 (camera 3)" in finding.message


def test_reserved_budget_only_warns():
    ports = tuple(port(n, powered(f"camera {n}", watts=4.0)) for n in (1, 2, 3))
    (finding,) = told("ethernet-budget-exceeded", site(ethernet(ports, {"budget_w": 40.0})))
    assert finding.severity == "tight" and finding.value == pytest.approx(46.2)


def test_a_passive_source_reserves_nothing():
    ports = (port(1, powered(over="passive ethernet"), reserved_w=60.0),)
    assert told("ethernet-budget-exceeded", site(ethernet(ports, {"standard": "passive", "budget_w": 40.0}))) == []


@pytest.mark.parametrize(
    ("standard", "class_", "watts", "severity"),
    [
        ("af", 3, 12.9, []),
        ("af", 4, 10.0, ["tight"]),
        ("af", 4, 20.0, ["fails"]),
        ("at", 4, 25.5, []),
        ("at", 5, 38.0, ["fails"]),
        ("bt3", 5, 38.0, []),
        ("bt4", 8, 71.3, []),
        ("at", 2, 12.0, ["fails"]),
        ("at", None, 12.0, []),
        ("af", None, 20.0, ["fails"]),
    ],
)
def test_class_and_watts_against_the_port(standard, class_, watts, severity):
    view = ethernet((port(1, powered(watts=watts, class_=class_)),), {"standard": standard})
    assert severities("ethernet-class-over-port", site(view)) == severity


def test_port_voltage_is_judged_by_what_the_devices_count_on():
    modest = port(1, powered("camera", class_=3), port_v=at(47.6))
    keen = port(2, powered("dome", class_=4), port_v=at(47.6))
    assert severities("ethernet-port-voltage-low", site(ethernet((modest,)))) == ["tight"]
    (finding,) = told("ethernet-port-voltage-low", site(ethernet((modest, keen))))
    assert finding.severity == "fails" and "dome" in finding.message and finding.limit == 50.0


def test_a_source_below_its_own_window_is_told_once():
    view = ethernet((port(1, powered(class_=4), port_v=at(42.0)),), input_lowest=at(42.0))
    assert told("ethernet-port-voltage-low", site(view)) == []
    assert severities("converter-locked-out", site(view)) == ["fails"]


def test_device_voltage_by_class_and_by_own_window():
    by_class = ethernet((port(1, powered(class_=4)),))
    (finding,) = told("ethernet-device-voltage-low", site(by_class, lowest=42.0))
    assert finding.limit == power_class(4).device_least_v == 42.5
    own = ethernet((port(1, powered(class_=4, input_v=window(36, 57))),))
    assert told("ethernet-device-voltage-low", site(own, lowest=42.0)) == []


def test_low_port_is_the_cause_of_a_low_device():
    view = ethernet((port(1, powered(class_=4), port_v=at(47.0)),))
    assert told("ethernet-device-voltage-low", site(view, lowest=41.0)) == []


def test_passive_device_without_a_window_is_not_judged():
    view = ethernet((port(1, powered(over="passive ethernet")),), {"standard": "passive"})
    assert told("ethernet-device-voltage-low", site(view, lowest=12.0)) == []


def test_passive_device_over_its_window_is_a_danger():
    link = powered("link", over="passive ethernet", input_v=window(16, 27))
    view = ethernet((port(1, link),), {"standard": "passive", "input_v": window(18, 30)}, input_highest=at(28.6))
    assert severities("ethernet-device-voltage-high", site(view, highest=28.6)) == ["danger"]


@pytest.mark.parametrize(
    ("standard", "over", "volts", "severity"),
    [
        ("passive", "wire", 24.0, "danger"),
        ("passive", "ethernet", 24.0, "fails"),
        ("passive", "ethernet", 60.0, "danger"),
        ("at", "passive ethernet", 54.0, "fails"),
        ("at", "wire", 54.0, "fails"),
    ],
)
def test_unlike_kinds(standard, over, volts, severity):
    view = ethernet((port(1, powered(over=over)),), {"standard": standard}, input_highest=at(volts))
    assert severities("passive-into-standard", site(view)) == [severity]


def test_length_and_resistance_of_the_channel():
    camera = ethernet((port(1, powered(class_=4)),))
    (finding,) = told("ethernet-run-too-long", site(camera, length_m=140.0))
    assert finding.dimension == "length" and "140 m" in finding.message
    thin = ethernet((port(1, powered(class_=4), loop_ohm=14.0),))
    assert severities("ethernet-run-too-long", site(thin)) == ["fails"]
    lesser = ethernet((port(1, powered(class_=3), loop_ohm=14.0),))
    assert told("ethernet-run-too-long", site(lesser)) == []


def test_four_pairs_unsaid_only_warn():
    dome = ethernet((port(1, powered(watts=45.0, class_=6), loop_ohm=9.0),), {"standard": "bt3"})
    assert severities("ethernet-run-too-long", site(dome)) == ["tight"]
    assert severities("ethernet-run-too-long", site(dome, origin=stated("pairs"))) == ["fails"]


def test_clad_cable_is_told_once():
    view = ethernet((port(1, powered(class_=4), loop_ohm=16.0),))
    found = site(view, text="Cat5e 24 AWG CCA")
    assert severities("ethernet-cable-copper-clad", found) == ["fails"]
    assert told("ethernet-run-too-long", found) == []


@pytest.mark.parametrize(("current_a", "pairs", "severity"), [(1.6, 2, ["fails"]), (1.6, 4, []), (1.4, 2, [])])
def test_current_is_shared_by_the_contacts(current_a, pairs, severity):
    view = ethernet((port(1, powered(over="passive ethernet"), current_a=current_a),), {"standard": "passive"})
    assert severities("ethernet-contacts-overloaded", site(view, pairs=pairs)) == severity
