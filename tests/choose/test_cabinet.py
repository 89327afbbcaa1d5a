"""What is decided for a cabinet: the smallest that keeps every part from its limit, or nothing at all."""

from collections.abc import Mapping

import pytest

from ohmstead import study
from ohmstead.choose.cabinet.allowed import allowed_factor
from ohmstead.choose.cabinet.decide import WANTED_K, Decision, decisions
from ohmstead.choose.cabinet.ways import least_margin, ways
from ohmstead.evidence.cabinets import again, with_full_mats
from ohmstead.heat.model import day

SITE = """ohmstead: 1
site: {name: box, latitude: 24}
zones:
  shed: {air: 5..40 °C}
  box: {inside: shed, air: from heat}
battery:
  bank: {chemistry: LFP, cells: 8, capacity: 100 Ah, limits: {discharge: 100 A}, zone: shed}
parts:
  logger: {kind: device, input: 18..32 V, draws: WATTS, warm limit: LIMIT, zone: box}
cabinet:
  box:
    size: 400 x 500 x 200 mm
    MORE
runs:
  - {from: bank, to: logger, length: 2 m, wire: 4 mm2 XLPE, fuse: 10 A 10x38, fuse at: 0.1 m}
"""


def made(watts: str, limit: str, *more: str) -> str:
    return SITE.replace("WATTS", watts).replace("LIMIT", limit).replace("MORE", "\n    ".join(more))


def decided(text: str) -> Mapping[str, Decision]:
    (view,) = study.from_text(text).evidence.cabinets
    return {decision.key: decision for decision in decisions(view)}


def margin(text: str) -> float:
    (view,) = study.from_text(text).evidence.cabinets
    found, _ = least_margin(again(view.climate, with_full_mats(view.climate.box)), view.limits)
    assert found is not None
    return found


def test_a_closed_box_is_enough() -> None:
    found = decided(made("5 W", "60 °C", "fan: choose", "low vent: choose", "high vent: choose"))
    assert {key: decision.chosen for key, decision in found.items()} == {
        "fan": "none",
        "low vent": "none",
        "high vent": "none",
    }
    assert "enough" in found["fan"].because


def test_vents_are_the_smallest_that_do_it() -> None:
    text = made("25 W", "54 °C", "low vent: choose", "high vent: choose")
    found = decided(text)
    chosen = found["low vent"].chosen
    assert chosen == found["high vent"].chosen and chosen.endswith("cm2")
    written = text.replace("low vent: choose", f"low vent: {chosen}").replace(
        "high vent: choose", f"high vent: {chosen}"
    )
    assert margin(written) >= WANTED_K - 0.1
    smaller = {"20 cm2": "10 cm2", "30 cm2": "20 cm2", "40 cm2": "30 cm2", "60 cm2": "40 cm2", "80 cm2": "60 cm2",
               "100 cm2": "80 cm2", "150 cm2": "100 cm2", "200 cm2": "150 cm2"}[chosen]  # fmt: skip
    assert margin(written.replace(chosen, smaller)) < WANTED_K
    assert smaller in found["low vent"].because


def test_a_fan_that_is_chosen_does_it_once_written() -> None:
    text = made("90 W", "55 °C", "fan: choose", "low vent: 60 cm2 left")
    found = decided(text)
    assert found["fan"].chosen.startswith("{free flow:")
    assert margin(text.replace("fan: choose", f"fan: {found['fan'].chosen}")) >= WANTED_K - 0.3


def test_a_mat_that_is_chosen_holds_when_full() -> None:
    fan = "fan: {free flow: 64 m3/h, pressure: 46 Pa, power: 3 W}"
    text = made("70 W", "55 °C", fan, "low vent: 60 cm2 left", "filter: {class: G4, area: choose}")
    found = decided(text)
    assert margin(text.replace("area: choose", f"area: {found['area'].chosen}")) >= WANTED_K - 0.1


def test_the_latest_threshold_is_chosen() -> None:
    fan = "fan: {free flow: 64 m3/h, pressure: 46 Pa, power: 3 W, on: choose, off: choose}"
    text = made("60 W", "60 °C", fan, "low vent: 60 cm2 left")
    found = decided(text)
    on, off = (float(found[key].chosen.removesuffix(" °C")) for key in ("on", "off"))
    assert on - off == 5.0
    written = text.replace("on: choose", f"on: {on} °C").replace("off: choose", f"off: {off} °C")
    assert margin(written) >= WANTED_K - 0.1
    later = text.replace("on: choose", f"on: {on + 1} °C").replace("off: choose", f"off: {off + 1} °C")
    assert margin(later) < WANTED_K


def test_nothing_serves_when_the_air_around_is_too_hot() -> None:
    found = decided(made("60 W", "43 °C", "fan: choose"))
    assert found["fan"].chosen == "" and "move or shade it" in found["fan"].because


def test_without_limits_nothing_is_decided() -> None:
    found = decided(made("60 W", "60 °C", "fan: choose").replace(", warm limit: 60 °C", ""))
    assert found["fan"].chosen == "" and "nothing to decide by" in found["fan"].because


def test_ways_are_ordered_by_nature() -> None:
    """Any air through the box cools it; a mat costs flow; the closed box is the hottest of all."""
    (view,) = study.from_text(made("60 W", "60 °C")).evidence.cabinets
    found = {way.name: way for way in ways(view)}
    assert found["closed"].gained_k == 0.0
    assert 0 < found["vents"].gained_k < found["fan and mat"].gained_k < found["fan"].gained_k
    assert found["fan and mat"].flow_m3_per_s < found["fan"].flow_m3_per_s
    assert found["closed"].hottest_c == pytest.approx(found["as described"].hottest_c)


def test_outdoors_shade_and_white_paint_help() -> None:
    text = made("10 W", "60 °C", "stands: outdoors", "colour: dark grey")
    (view,) = study.from_text(text).evidence.cabinets
    found = {way.name: way for way in ways(view)}
    assert found["shaded"].gained_k > 3.0 and found["white"].gained_k > 3.0


def test_the_allowed_heat_brings_the_nearest_part_to_its_limit() -> None:
    (view,) = study.from_text(made("30 W", "60 °C")).evidence.cabinets
    factor = allowed_factor(view)
    assert factor is not None and factor > 0.5
    hot = view.climate.hot
    heat = {name: tuple(factor * watts for watts in hours) for name, hours in hot.heat_w.items()}
    found, _ = least_margin(day(view.climate.box, hot.around, heat), view.limits)
    assert found == pytest.approx(0.0, abs=0.4)


def test_no_heat_is_allowed_where_the_air_around_is_too_hot() -> None:
    (view,) = study.from_text(made("30 W", "39 °C")).evidence.cabinets
    assert allowed_factor(view) == 0.0
