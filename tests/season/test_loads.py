"""The load as the battery sees it: the duty by the hour, and the network's figure for it."""

import numpy as np
import pytest

from ohmstead.season.bank import bank_of
from ohmstead.season.clock import dark_share, wall_of, window_share
from ohmstead.season.duty import habits
from ohmstead.season.loads import loads_of
from ohmstead.season.tabulate import Tabulator
from ohmstead.season.trouble import SeasonError
from ohmstead.site.model import Site
from ohmstead.site.read import read_text
from ohmstead.sun.hours import Hours
from ohmstead.sun.years import Spot, drawn_weather, outside_by_month

SITE = """ohmstead: 1
site: {{name: hut, latitude: {latitude}, longitude: {longitude}, timezone: {zone}}}
battery: {{bank: {{chemistry: LFP, cells: 4, capacity: 100 Ah, cut-off: 10 V}}}}
parts:
  low cut: {{kind: low-voltage disconnect, off: 12 V, on: 13.1 V, senses: bank}}
  bar: {{kind: busbar}}
  supply: {{kind: converter, type: boost, input: 9..16 V, output: 24 V, rating: 60 W, idle: 1 W, efficiency: 0.9}}
  lamp: {{kind: device, input: 9..16 V, draws: 12 W, duty: {{on: dusk..dawn}}}}
  camera: {{kind: device, input: 20..28 V, draws: {{idle: 2 W, busy: 20 W}}, duty: {{busy: 21:30-02:00, idle: rest}}}}
  pump: {{kind: device, input: 9..16 V, draws: 48 W, duty: {{on: 0.5 h a day}}}}
runs:
  - {{from: bank, to: low cut, length: 1 m, wire: 10 mm2, fuse: 30 A blade}}
  - {{from: low cut, to: bar, length: 1 m, wire: 10 mm2}}
  - {{from: bar, to: supply, length: 1 m, wire: 2.5 mm2}}
  - {{from: bar, to: lamp, length: 5 m, wire: 1.5 mm2}}
  - {{from: bar, to: pump, length: 5 m, wire: 2.5 mm2}}
  - {{from: supply, to: camera, length: 5 m, wire: 1.5 mm2}}
"""


def hut(latitude: float = 50.0, longitude: float = 0.0, zone: str = "UTC") -> Site:
    """A small place with one device of each sort."""
    return read_text(SITE.format(latitude=latitude, longitude=longitude, zone=zone))


def weather(latitude: float = 50.0, longitude: float = 0.0, offset_s: int = 0) -> Hours:
    """One drawn year."""
    spot = Spot(latitude, longitude, 0.0, offset_s)
    return drawn_weather(spot, 0.5 * outside_by_month(spot), np.full(12, 10.0), 1, seed=1)


def test_windows_of_the_clock() -> None:
    wall = np.arange(24.0)
    assert window_share(wall, 6.0, 18.0).tolist() == [0.0] * 6 + [1.0] * 12 + [0.0] * 6
    over = window_share(wall, 21.5, 2.25)
    assert over.sum() == pytest.approx(4.75)
    assert (over[21], over[22], over[1], over[2], over[3]) == (0.5, 1.0, 1.0, 0.25, 0.0)
    assert window_share(wall, 0.0, 24.0).sum() == 24.0
    assert window_share(wall, 7.25, 7.75)[7] == 0.5
    half_hours = window_share(wall + 0.5, 6.0, 7.0)
    assert (half_hours[5], half_hours[6]) == (0.5, 0.5)


def test_summer_time_moves_the_window() -> None:
    """Europe/London is one hour ahead of UTC from the last Sunday of March to that of October: 2001, 25 and 28."""
    hours = weather()
    clock, note = wall_of(hut(zone="Europe/London"), hours)
    wall = clock.hour
    utc = (hours.start_utc_s % 86400) / 3600.0
    ahead = np.flatnonzero((wall - utc) % 24.0 == 1.0)
    assert note == ""
    assert ahead[0] == (31 + 28 + 24) * 24 + 1  # 25 March, 01:00 UTC
    assert ahead[-1] == (365 - 31 - 30 - 4) * 24 + 0  # 28 October, the hour before 01:00 UTC
    assert (np.diff(ahead) == 1).all()


def test_nights_are_as_long_as_they_are(outside) -> None:  # type: ignore[no-untyped-def]
    """Day length of the sunrise equation cos w = (cos 90.833° - sin φ sin δ)/(cos φ cos δ) at the solstices."""
    for latitude, day, declination in ((50.0, 171, 23.44), (50.0, 354, -23.44), (-34.0, 171, 23.44)):
        share = dark_share(weather(latitude)).reshape(365, 24)[day].sum()
        high, low = np.radians(latitude), np.radians(declination)
        cosine = (np.cos(np.radians(90.833)) - np.sin(high) * np.sin(low)) / (np.cos(high) * np.cos(low))
        night = 24 - 2 * np.degrees(np.arccos(cosine)) / 15
        outside(source="duffie-beckman", place="sunrise equation 1.6.10, upper edge and refraction added",
                read="from memory", what="length of the night, h", deviation=float(abs(share / night - 1)))  # fmt: skip
        assert share == pytest.approx(night, abs=0.05)


def test_polar_night_and_polar_day() -> None:
    share = dark_share(weather(78.0)).reshape(365, 24)
    assert share[354].sum() == 24.0
    assert share[171].sum() == 0.0


@pytest.mark.parametrize(("latitude", "longitude", "offset_s"), [(50.0, 0.0, 0), (-34.0, 150.0, 36000)])
def test_shares_of_every_hour_add_up(latitude: float, longitude: float, offset_s: int) -> None:
    known, _ = habits(hut(latitude, longitude, "Australia/Sydney"), weather(latitude, longitude, offset_s))
    for habit in known:
        assert sum(habit.shares.values()) == pytest.approx(np.ones(8760))
    camera = next(habit for habit in known if habit.name == "camera")
    assert camera.shares["busy"].sum() == pytest.approx(365 * 4.5, abs=2)
    pump = next(habit for habit in known if habit.name == "pump")
    assert pump.shares["on"].sum() == pytest.approx(365 * 0.5)


def test_the_night_draws_more_in_winter_on_either_side_of_the_equator() -> None:
    for latitude, winter in ((50.0, 354), (-50.0, 171)):
        site, hours = hut(latitude), weather(latitude)
        load = loads_of(site, bank_of(site), hours).load_w[1].reshape(365, 24).sum(axis=1)
        assert load[winter] > load[(winter + 182) % 365] + 60.0


def test_the_battery_pays_for_converter_and_wire() -> None:
    """An hour with camera and lamp: a boost of 90 % at one load, its idle draw in the curve, and a little copper."""
    site = hut()
    bank = bank_of(site)
    solver = Tabulator(site, bank)
    lamp = solver.power_w({"lamp": "on"}, "nominal") - solver.power_w({}, "nominal")
    assert 12.0 < lamp < 12.4
    camera = solver.power_w({"camera": "busy"}, "nominal")
    assert 20.0 / 0.93 < camera < 20.0 / 0.86
    assert solver.power_w({}, "nominal") == pytest.approx(1.0, abs=0.05)


def test_hours_shared_between_states_come_close_to_the_network_solved_in_full() -> None:
    """The pump's half hour a day: 48 W for half an hour, counted evenly, is what the network says it costs."""
    site = hut()
    bank = bank_of(site)
    loads = loads_of(site, bank, weather())
    solver = Tabulator(site, bank)
    usual = solver.power_w({"camera": "idle", "pump": "on"}, "nominal") - solver.power_w({"camera": "idle"}, "nominal")
    midday = loads.load_w[1].reshape(365, 24)[171, 12]
    assert midday == pytest.approx(solver.power_w({"camera": "idle"}, "nominal") + usual * 0.5 / 24, rel=2e-3)


def test_the_disconnect_stands_where_the_battery_rests_at_its_voltage() -> None:
    bank = bank_of(hut())
    assert bank.full_wh == pytest.approx(1307.0, rel=0.01)  # 100 Ah at a mean of 13.07 V
    for state in (0.03, 0.2, 0.6, 0.97):
        assert bank.state_at(bank.voltage_at(state)) == pytest.approx(state, abs=2e-3)
    double = bank.times(2.0)
    assert (double.full_wh, double.warm_ohm) == pytest.approx((2 * bank.full_wh, bank.warm_ohm / 2))


def test_lithium_takes_no_charge_below_freezing() -> None:
    """Table of a module manual (second-hand): none below 0 °C, a tenth of capacity to 5 °C, a fifth to 10 °C."""
    bank = bank_of(hut())
    most = bank.charge_most_w(np.array([-0.1, 0.0, 4.9, 5.0, 9.9, 25.0])) / bank.nominal_v
    assert most[:5].tolist() == pytest.approx([0.0, 10.0, 10.0, 20.0, 20.0])
    assert most[5] == pytest.approx(bank.charge_a)
    text = SITE.format(latitude=50, longitude=0, zone="UTC").replace("LFP, cells: 4", "lead AGM, cells: 6")
    assert bank_of(read_text(text)).charge_most_w(np.array([-10.0]))[0] > 0.0


def test_batteries_that_make_no_bank_are_refused() -> None:
    text = SITE.format(latitude=50, longitude=0, zone="UTC")
    other = text.replace("10 V}}", "10 V}, second: {chemistry: lead AGM, cells: 6, capacity: 100 Ah}}")
    other = other.replace("runs:", "runs:\n  - {from: second, to: bar, length: 1 m, wire: 10 mm2, fuse: 30 A blade}")
    with pytest.raises(SeasonError, match="differ"):
        bank_of(read_text(other))
