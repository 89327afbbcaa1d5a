"""Heat inside a cabinet from the operating points, and the loop of network and air."""

from dataclasses import replace

import pytest

from ohmstead.network.cabinet.hours import hour_cases, state_at
from ohmstead.network.cabinet.inside import WIRES, inside_of
from ohmstead.network.cabinet.loop import DAYS, settled
from ohmstead.network.cabinet.released import released_w
from ohmstead.network.compile import compile_site
from ohmstead.network.corner import corner_of, figures
from ohmstead.network.operate import operate
from ohmstead.network.solve import solve_all
from ohmstead.site.kinds import Device
from ohmstead.site.model import Site
from ohmstead.site.read import read_text
from ohmstead.sun.weather import read_hours

HEAD = """ohmstead: 1
site: {name: box, latitude: 50}
zones:
  hall: {air: 5..40 °C}
  box: {inside: hall, air: from heat}
battery:
  bank: {chemistry: LFP, cells: 8, capacity: 100 Ah, limits: {discharge: 100 A}, zone: BANK}
parts:
  block: {kind: distribution, ways: 4, zone: box}
  supply: {kind: converter, type: buck, input: 18..32 V, output: 12 V, rating: 100 W,
           idle: 0.5 W, efficiency: 0.9, zone: box, at: high}
  radio: {kind: device, input: 11..13 V, draws: {listening: 5 W, sending: 40 W},
          duty: {sending: 3 h a day, listening: rest}, zone: RADIO}
  lamp: {kind: device, input: 20..30 V, draws: 10 W, duty: dusk..dawn, zone: box, at: low}
cabinet:
  box:
    size: 500 x 600 x 250 mm
runs:
  - {from: bank, to: block, length: 3 m, wire: 6 mm2, fuse: 30 A class T, fuse at: 0.1 m}
  - {from: block / 1, to: supply, length: 0.5 m, wire: 2.5 mm2, fuse: 10 A blade}
  - {from: supply, to: radio, length: 4 m, wire: 2.5 mm2}
  - {from: block / 2, to: lamp, length: 0.5 m, wire: 1.5 mm2, fuse: 3 A blade}
"""


def site(bank: str = "hall", radio: str = "box", more: str = "") -> Site:
    return read_text(HEAD.replace("BANK", bank).replace("RADIO", radio).replace("runs:", more + "runs:"))


def heat_at(found: Site, case: int, day: str = "hot") -> tuple[dict[str, float], float]:
    """Heat by gear in one hour, and what the battery gives."""
    circuit = compile_site(found)
    cases = hour_cases(found, day)
    corner = corner_of(figures(circuit), cases[case], {})
    (point,) = solve_all(circuit.network, (corner,))
    inside = inside_of(found, "box", dict(circuit.paths))
    return released_w(circuit, corner, point, inside), corner.source_v[0] * point.source_a[0]


def test_all_in_the_box_gives_off_what_the_battery_gives() -> None:
    """Energy is kept: with everything inside, the whole source power is heat."""
    for day in DAYS:
        for hour in (0, 12, 15):
            heat, source_w = heat_at(site("box", "box"), hour, day)
            assert sum(heat.values()) == pytest.approx(source_w, rel=1e-6)


def test_power_that_leaves_the_box_is_not_counted() -> None:
    inside, _ = heat_at(site(radio="box"), 15)
    outside, _ = heat_at(site(radio="hall"), 15)
    assert inside["radio"] == pytest.approx(40.0, rel=1e-3)
    assert "radio" not in outside
    assert outside["supply"] == pytest.approx(inside["supply"], rel=0.02)
    assert 0 < outside[WIRES] < inside[WIRES]


def test_radio_waves_leave_the_box() -> None:
    found = site()
    radio = found.parts["radio"]
    assert isinstance(radio, Device)
    sends = replace(found, parts={**found.parts, "radio": replace(radio, leaves_fraction=0.4)})
    assert heat_at(sends, 15)[0]["radio"] == pytest.approx(0.6 * heat_at(found, 15)[0]["radio"])


def test_hours_a_day_fall_around_the_hottest_hour() -> None:
    radio = site().parts["radio"]
    assert isinstance(radio, Device)
    sending = [hour for hour in range(24) if state_at(radio, hour, "hot", 50.0) == "sending"]
    assert sending == [14, 15, 16]
    assert {state_at(radio, hour, "cold", 50.0) for hour in range(24)} == {"listening"}


def test_the_dark_is_short_on_the_hottest_day() -> None:
    lamp = site().parts["lamp"]
    assert isinstance(lamp, Device)
    dark = {day: sum(state_at(lamp, hour, day, 50.0) == "on" for hour in range(24)) for day in DAYS}
    assert dark["hot"] == 8 and dark["cold"] == 16  # 16 h of day at 50 degrees in midsummer, any almanac


def test_the_loop_closes_and_the_air_is_used() -> None:
    operation = operate(site())
    climate = operation.climates["box"]
    assert climate.off_k < 0.05 and climate.rounds <= 3
    air = operation.site.air_of("box")
    assert air.high > 40.0 and air.low > 5.0
    assert operation.site.air_at("lamp").high < operation.site.air_at("supply").high <= air.high
    assert operation.circuit.paths[2].air.high == pytest.approx(
        max(operation.site.air_at("block").high, operation.site.air_at("supply").high)
    )


def test_air_from_heat_agrees_with_the_same_air_stated() -> None:
    """The loop changes nothing but the air: stated outright, it gives the same operating points."""
    found, climates = settled(site())
    again = operate(replace(found, cabinets={}))
    first = operate(site())
    assert climates.keys() == {"box"}
    for one, other in zip(first.points, again.points, strict=True):
        assert one.voltage_v == pytest.approx(other.voltage_v, abs=1e-9)


def test_a_measured_rise_is_kept() -> None:
    """A closed box of which the builder measured 10 K at 30 W has that rise when 30 W are given off day and night."""
    text = (
        HEAD.replace("BANK", "hall").replace("RADIO", "hall").replace("duty: dusk..dawn, ", "").replace("10 W", "30 W")
    )
    text = text.replace("size: 500 x 600 x 250 mm", "size: 500 x 600 x 250 mm\n    measured rise: 10 K at 30 W\n"
                        "    daily swing: 0 K\n    leaks: 0 cm2")  # fmt: skip
    climate = operate(read_text(text)).climates["box"]
    heat = climate.hot.total_w
    mean = (sum(climate.hot.trace.lower_c) + sum(climate.hot.trace.upper_c)) / 48 - 40.0
    assert mean == pytest.approx(10.0 * sum(heat) / 24 / 30.0, rel=0.03)


def test_a_thermostat_sets_the_hours_of_its_fan() -> None:
    fan = (
        "    fan: {part: lamp, free flow: 50 m3/h, pressure: 30 Pa, on: 46 °C, off: 42 °C}\n    low vent: 60 cm2 left\n"
    )
    text = HEAD.replace("BANK", "hall").replace("RADIO", "box").replace("duty: dusk..dawn, ", "")
    operation = operate(read_text(text.replace("runs:", fan + "runs:")))
    lamp = operation.site.parts["lamp"]
    assert isinstance(lamp, Device)
    (entry,) = lamp.duty
    climate = operation.climates["box"]
    shares = [sum(day.trace.fan_fraction) for day in (climate.hot, climate.cold)]
    assert entry.kind == "daily hours" and entry.hours == pytest.approx(sum(shares) / 2, rel=1e-6)
    assert 0 < entry.hours < 24
    assert climate.hot.heat_w["lamp"] == (0.0,) * 24  # counted with the air


def test_a_site_without_a_cabinet_is_left_alone() -> None:
    text = HEAD.replace("BANK", "hall").replace("RADIO", "box").replace("air: from heat", "air: hall + 8 K")
    text = text[: text.index("cabinet:\n")] + text[text.index("runs:") :]
    operation = operate(read_text(text.replace(", at: high", "").replace(", at: low", "")))
    assert operation.climates == {} and operation.site.local_air == {}


def test_places_on_the_plate_are_heights() -> None:
    plate = "plate:\n  zone: box\n  size: 400 x 500 mm\n  depth: 180 mm\n  parts: {block: {at: [10 mm, 20 mm], size: 100 x 80 x 40 mm}}\n"  # noqa: E501
    found = read_text(HEAD.replace("BANK", "hall").replace("RADIO", "box").replace("runs:", plate + "runs:"))
    inside = inside_of(found, "box", dict(compile_site(found).paths))
    assert inside.heights_m["block"] == pytest.approx(0.3 + 0.25 - 0.06)
    assert "block" not in inside.assumed and "radio" in inside.assumed


def test_days_of_the_weather_are_those_of_its_hottest_and_coldest_hours() -> None:
    weather = (
        "weather:\n  monthly sun: 1.1 1.9 3.0 4.2 5.1 5.4 5.3 4.6 3.4 2.1 1.2 0.9 kWh/m²\n"
        "  monthly air: 1 2 5 9 13 16 18 18 15 10 5 2 °C\n  years: 2\n"
    )
    text = HEAD.replace("BANK", "hall").replace("RADIO", "box").replace("latitude: 50", "latitude: 50, longitude: 8")
    text = text.replace("size: 500 x 600 x 250 mm", "size: 500 x 600 x 250 mm\n    days: weather\n    stands: outdoors")
    found = read_text(text.replace("runs:", weather + "runs:"))
    hours = read_hours(found)
    climate = operate(found).climates["box"]
    assert min(climate.cold.around.air_c) == pytest.approx(float(hours.air_c.min()))
    assert max(climate.hot.around.air_c) > float(hours.air_c.max()) - 6.0
    assert max(climate.hot.around.sun_w_per_m2["top"]) > 600.0
    assert climate.air.high > max(climate.hot.around.air_c)


def test_a_box_in_a_box_warms_both() -> None:
    """What is given off in the inner box passes through the outer one, and the inner stands in the outer's air."""
    text = HEAD.replace("BANK", "hall").replace("RADIO", "nest")
    text = text.replace("  box: {inside: hall, air: from heat}", "  box: {inside: hall, air: from heat}\n"
                        "  nest: {inside: box, air: from heat}")  # fmt: skip
    operation = operate(read_text(text.replace("runs:", "  nest: {size: 200 x 200 x 100 mm}\nruns:")))
    outer, inner = operation.climates["box"], operation.climates["nest"]
    assert outer.off_k < 0.05
    assert inner.hot.heat_w["radio"] == outer.hot.heat_w["radio"]
    assert max(inner.hot.around.air_c) == pytest.approx(outer.air.high, abs=1e-6)
    assert "radio" not in outer.local_air and operation.site.air_at("radio").high > outer.air.high
