"""Cabinets as rules see them: limits, the fan choked and stopped, damp; and one cause told once."""

import pytest

from ohmstead import study
from ohmstead.evidence.cabinets import again, has_mat, passed, with_full_mats
from ohmstead.evidence.finding import Severity

SITE = """ohmstead: 1
site: {name: box, latitude: 24}
zones:
  shed: {air: 5..44 °C}
  box: {inside: shed, air: from heat}
battery:
  bank: {chemistry: LFP, cells: 8, capacity: 100 Ah, limits: {discharge: 100 A, charge: 50 A}, zone: shed}
parts:
  logger: {kind: device, input: 18..32 V, draws: 60 W, warm limit: LIMIT, zone: box}
  supply: {kind: converter, type: buck, input: 18..32 V, output: 12 V, rating: 50 W,
           full until: 45 °C, nothing at: 75 °C, zone: box, at: high}
  link: {kind: device, input: 11..13 V, draws: 20 W, zone: shed}
  box fan: {kind: device, input: 18..32 V, draws: 2.5 W, zone: box}
cabinet:
  box:
    size: 300 x 400 x 200 mm
    low vent: 50 cm2 left
    fan: {part: box fan, free flow: 64 m3/h, pressure: 46 Pa}
    MORE
runs:
  - {from: bank, to: logger, length: 2 m, wire: 4 mm2 XLPE, fuse: 10 A 10x38, fuse at: 0.1 m}
  - {from: bank, to: supply, length: 2 m, wire: 4 mm2 XLPE, fuse: 6 A 10x38, fuse at: 0.1 m}
  - {from: supply, to: link, length: 2 m, wire: 4 mm2 XLPE}
  - {from: bank, to: box fan, length: 2 m, wire: 1.5 mm2 XLPE, fuse: 2 A 10x38, fuse at: 0.1 m}
"""


def made(limit: str = "60 °C", more: str = "gear: 5 kg") -> study.Study:
    return study.from_text(SITE.replace("LIMIT", limit).replace("MORE", more))


def rules(found: study.Study) -> list[tuple[str, str]]:
    return [(finding.rule, finding.subject) for finding in found.findings]


def test_limits_come_from_the_part_and_from_what_is_asked() -> None:
    (view,) = made().evidence.cabinets
    limits = {limit.name: limit for limit in view.limits}
    assert limits["logger"].limit_c == 60.0 and limits["logger"].kind == "warm limit"
    asked = next(v for v in made().evidence.converters if v.name == "supply").output_w.value
    assert limits["supply"].limit_c == pytest.approx(45.0 + (1.0 - asked / 50.0) * 30.0)
    assert set(limits) == {"logger", "supply"}


def test_the_air_of_a_device_is_that_at_its_height() -> None:
    found = made()
    (view,) = found.evidence.cabinets
    ambient = {v.name: v.ambient_c for v in found.evidence.devices}
    assert ambient["logger"] == view.climate.local_air["logger"].high
    assert next(v for v in found.evidence.converters if v.name == "supply").ambient_c > ambient["logger"]


def test_too_warm_is_told_once_with_its_hour() -> None:
    found = made("46 °C", "filter: {class: G4, area: 25 cm2}")
    told = [finding for finding in found.findings if "logger" in (finding.subject, *finding.message.split())]
    assert [(f.rule, f.severity) for f in told] == [("device-too-warm", Severity.FAILS)]
    assert "of the hottest day" in told[0].message


def test_a_clogged_filter_fails_and_its_remedy_works() -> None:
    """The fan example: with a clogged mat the flow collapses and the logger is too hot; a larger mat mends it."""
    clogged = made("56 °C", "filter: {class: G4, area: 25 cm2, change at: 6}")
    (view,) = clogged.evidence.cabinets
    assert view.fan is not None and view.fan.loaded_m3_per_s is not None
    assert view.fan.loaded_m3_per_s < 0.5 * view.fan.flow_m3_per_s
    assert ("filter-chokes-fan", "box fan") in rules(clogged)
    as_it_is = made("56 °C", "filter: {class: G4, area: 25 cm2, change at: 6, loaded: 100 %}")
    assert ("device-too-warm", "logger") in rules(as_it_is) and ("filter-chokes-fan", "box fan") not in rules(as_it_is)
    mended = made("56 °C", "filter: {class: G3, area: 200 cm2, change at: 3}")
    assert not {"filter-chokes-fan", "device-too-warm"} & {rule for rule, _ in rules(mended)}


def test_a_full_mat_is_worse_than_a_clean_one_and_none_is_best() -> None:
    (view,) = made(more="filter: {class: G3, area: 50 cm2}").evidence.cabinets
    (bare,) = made().evidence.cabinets
    assert has_mat(view.climate.box) and not has_mat(bare.climate.box)
    full = again(view.climate, with_full_mats(view.climate.box)).hottest(0.4)[1]
    assert bare.hottest_c < view.hottest_c < full


def test_what_a_day_passes_is_sorted_by_how_far() -> None:
    (view,) = made("45 °C").evidence.cabinets
    found = passed(view.climate.hot.trace, view.limits)
    assert [p.limit.name for p in found][:1] == ["logger"]
    assert all(p.over_k > 0 for p in found)


def test_a_battery_in_the_box_has_the_air_of_the_box() -> None:
    text = SITE.replace("LIMIT", "60 °C").replace("MORE", "gear: 5 kg").replace("charge: 50 A}, zone: shed",
                                                                               "charge: 50 A}, zone: box")  # fmt: skip
    cold = text.replace("5..44 °C", "-6..44 °C").replace("draws: 60 W", "draws: {off: 0.1 W, on: 60 W}")
    charger = "  sun: {kind: charger, from: sun, voltage: 28 V, current: 10 A, zone: shed}\ncabinet:"
    cold = cold.replace("cabinet:", charger, 1).replace(
        "runs:", "runs:\n  - {from: sun, to: bank, length: 2 m, wire: 6 mm2 XLPE, fuse: 16 A 10x38, fuse at: 1.9 m}"
    )
    found = study.from_text(cold)
    (told,) = [finding for finding in found.findings if finding.rule == "battery-charged-in-the-cold"]
    assert told.value == pytest.approx(found.evidence.cabinets[0].climate.local_air["bank"].low)
    assert -6.0 < told.value < 2.0


def test_a_fan_that_costs_no_share_is_not_told() -> None:
    assert "fan-share-high" not in {rule for rule, _ in rules(made())}


def test_a_nameless_site_has_the_same_cabinet() -> None:
    found = made(more="filter: {class: G3, area: 50 cm2}")
    (view,), (other,) = found.evidence.cabinets, found.nameless().evidence.cabinets
    assert other.name != view.name and other.hottest_c == pytest.approx(view.hottest_c)
    assert other.fan is not None and view.fan is not None and other.fan.power_w == view.fan.power_w == 2.5
    assert len(found.nameless().findings) == len(found.findings)


def test_fuses_and_copper_are_judged_in_the_air_of_the_box() -> None:
    """The same supply, its block once in the box and once beside it: the fuse in the box carries less."""
    block = "  block: {kind: distribution, ways: 2, total: 60 A, per way: 30 A, voltage: 32 V, zone: PLACE}\ncabinet:"
    text = SITE.replace("LIMIT", "60 °C").replace("MORE", "gear: 5 kg").replace("cabinet:", block, 1)
    text = text.replace("from: bank, to: logger", "from: block / 1, to: logger").replace(
        "runs:",
        "runs:\n  - {from: bank, to: block, length: 2 m, wire: 10 mm2 XLPE, fuse: 40 A class T, fuse at: 0.1 m}",
    )
    inside, beside = (study.from_text(text.replace("PLACE", zone)) for zone in ("box", "shed"))
    hot, cool = (found.evidence.run("block / 1 -> logger") for found in (inside, beside))
    assert hot.own_fuse is not None and cool.own_fuse is not None
    assert hot.own_fuse.ambient_c == inside.operation.site.air_at("block").high > 44.0
    assert cool.own_fuse.ambient_c == 44.0
    assert hot.own_fuse.continuous_a < cool.own_fuse.continuous_a
    assert hot.ambient_c >= cool.ambient_c > 44.0  # the other end is in the box either way
    assert hot.loop_hot_ohm >= cool.loop_hot_ohm
