"""The back-up source and the shedding of priorities, in the recursion and in the figures of a year."""

from dataclasses import replace

import numpy as np
import pytest

from ohmstead.season.backup import Backup
from ohmstead.season.kernel import BACKUP, LEVEL, N_GRID, RUNNING, SERVED, STATE, UNSERVED, Drive, Rules, Starts, run
from ohmstead.season.ledger import Ledger
from ohmstead.season.pictures import pictures
from ohmstead.season.reckon import reckon
from ohmstead.season.shortage import asked_by_priority_w, shortages, unserved_by_priority_w
from ohmstead.season.trouble import SeasonError
from ohmstead.season.use import use_of
from ohmstead.season.year import summary_of
from ohmstead.site.pieces import Level
from ohmstead.site.read import read_text

PLAIN = Rules(1000.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 1e9, 500.0)
SITE = """ohmstead: 1
site: {name: hut, latitude: 46, longitude: 8, timezone: Europe/Zurich}
zones: {hut: {air: 2..30 °C}}
battery:
  bank: {chemistry: LFP, cells: 4, capacity: 100 Ah, limits: {discharge: 60 A, charge: 50 A}, zone: hut}
parts:
  sun charger: {kind: charger, from: sun, array: roof, voltage: 14.2 V, current: 20 A}
  set: {kind: charger, from: generator, voltage: 14.2 V, current: 30 A, starts at: 10 %, stops at: 80 %, least run: 2 h,
        fuel: 0.4 l/h, idle fuel: 0.1 l/h}
  lamp: {kind: device, input: 9..15 V, draws: 10 W, duty: {on: dusk..dawn}}
  tv: {kind: device, input: 9..15 V, draws: 30 W, duty: 4 h a day between 17:00-23:00, priority: 3}
  fan: {kind: device, input: 9..15 V, draws: 3 W, duty: {0 °C: 0 %, 30 °C: 100 %}, priority: 2, zone: hut}
runs:
  - {from: sun charger, to: bank, length: 1 m, wire: 6 mm2}
  - {from: set, to: bank, length: 3 m, wire: 6 mm2}
  - {from: bank, to: lamp, length: 4 m, wire: 2.5 mm2}
  - {from: bank, to: tv, length: 4 m, wire: 2.5 mm2}
  - {from: bank, to: fan, length: 4 m, wire: 2.5 mm2}
season: {shed: {3: 30..50 %, 2: 15 %}}
weather:
  monthly sun: 1.2 2.0 3.2 4.2 5.0 5.6 5.9 5.1 3.8 2.4 1.4 1.0 kWh/m²
  monthly air: 0 1 5 9 13 17 19 18 15 10 4 1 °C
  years: 2
arrays: {roof: {module power: 100 W, tilt: 40°, azimuth: 180°}}
"""


def dark(n_hour: int, load: float) -> Drive:
    """A load and no sun."""
    loads = np.full((3, n_hour), load)
    return Drive(np.zeros(n_hour), loads, np.zeros(n_hour), np.zeros(n_hour), np.full(n_hour, 1e9), np.ones(N_GRID))


@pytest.fixture(scope="module")
def ledger() -> Ledger:
    return reckon(read_text(SITE))


def test_it_starts_stops_and_runs_no_shorter_than_told() -> None:
    """500 Wh less 100 W an hour: 200 Wh after three hours; then +250 W net of the load until 800 Wh, three hours."""
    out = run(dark(20, 100.0), replace(PLAIN, backup=Starts(350.0, 200.0, 800.0, 1.0)))
    assert out[RUNNING].astype(int).tolist() == [0, 0, 0, 1, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 0, 0, 0]
    assert out[STATE][[2, 5, 13]].tolist() == [200.0, 950.0, 150.0]
    assert out[UNSERVED].sum() == 0.0
    longer = run(dark(12, 100.0), replace(PLAIN, backup=Starts(350.0, 200.0, 300.0, 5.0)))
    assert longer[RUNNING].astype(int).tolist() == [0, 0, 0, 1, 1, 1, 1, 1, 0, 0, 0, 0]
    assert longer[BACKUP][6:8].tolist() == [150.0, 100.0]  # full: only what the load takes is made
    assert longer[STATE][7] == 1000.0


def test_priorities_go_in_order_and_come_back() -> None:
    """500 Wh and 100 W: at 300 Wh down to 60 W, at 100 Wh down to 10 W; back at 200 and 400 Wh with the sun."""
    drive = dark(14, 100.0)
    reduced = np.stack([np.full((3, 14), 60.0), np.full((3, 14), 10.0)])
    harvest = np.zeros(14)
    harvest[7:] = 140.0
    rules = replace(PLAIN, sheds=((300.0, 400.0), (100.0, 200.0)))
    out = run(replace(drive, harvest_w=harvest, reduced_w=reduced), rules)
    assert out[LEVEL].tolist() == [0, 0, 1, 1, 1, 1, 2, 2, 2, 1, 1, 0, 0, 0]
    assert out[SERVED].tolist() == [100, 100, 60, 60, 60, 60, 10, 10, 10, 60, 60, 100, 100, 100]
    assert out[UNSERVED].tolist() == [0, 0, 40, 40, 40, 40, 90, 90, 90, 40, 40, 0, 0, 0]
    with pytest.raises(ValueError, match="reduced"):
        run(drive, rules)


def test_the_books_balance_with_both(ledger: Ledger) -> None:
    assert ledger.backup_w.sum() > 0.0
    assert (ledger.steps_shed > 0).any()
    assert ledger.imbalance() < 1e-9
    assert ledger.table()["backup_w"].sum() == pytest.approx(ledger.backup_w.sum())


def test_what_lacks_is_shared_out_by_priority(ledger: Ledger) -> None:
    asked, lacking = asked_by_priority_w(ledger), unserved_by_priority_w(ledger)
    assert list(asked) == list(lacking) == [1, 2, 3]
    np.testing.assert_allclose(sum(asked.values()), ledger.asked_w, rtol=1e-9, atol=1e-9)
    np.testing.assert_allclose(sum(lacking.values()), ledger.unserved_w, rtol=1e-9, atol=1e-9)
    for priority in asked:
        assert (lacking[priority] > -1e-9).all()
        assert (lacking[priority] <= asked[priority] * 1.03 + 1e-6).all()  # tables are shared out at half-full voltage
    shares = [one.unserved_fraction for one in shortages(ledger)]
    assert shares[0] < shares[1] < shares[2]
    only_tv = ledger.steps_shed == 1
    assert lacking[3][only_tv].sum() == pytest.approx(ledger.unserved_w[only_tv].sum(), rel=0.02)


def test_without_thresholds_nobody_is_spared() -> None:
    text = SITE.replace("season: {shed: {3: 30..50 %, 2: 15 %}}\n", "").replace("starts at: 10 %, ", "")
    for key in ("stops at: 80 %, ", "least run: 2 h,\n        ", "fuel: 0.4 l/h, idle fuel: 0.1 l/h"):
        text = text.replace(key, "")
    text = text.replace("module power: 100 W", "module power: 50 W").replace("current: 30 A, }", "current: 30 A}")
    found = shortages(reckon(read_text(text)))
    assert min(one.unserved_fraction for one in found if one.asked_wh_a_day > 0) > 0.0


def test_fuel_follows_the_line_of_willans(outside) -> None:  # type: ignore[no-untyped-def]
    """A set of 0.4 l/h at full and 0.1 l/h at no load burns 0.25 l/h at half load: half-way along a straight line."""
    one = Backup("set", "generator", Level(0.1), Level(0.8), 1.0, 400.0, np.array([0.5]), np.array([0.8]), 0.4, 0.1)
    given, running = np.array([0.0, 0.0, 200.0, 400.0]), np.array([0.0, 1.0, 1.0, 1.0])
    burnt = one.burnt_l(given, running)
    outside(source="willans", place="fuel over load is a straight line", read="from memory",
            what="fuel of a generator at part load", deviation=float(abs(burnt[2] / 0.25 - 1)))  # fmt: skip
    assert burnt.tolist() == pytest.approx([0.0, 0.1, 0.25, 0.4])
    assert one.taken_w(given).tolist() == pytest.approx([0.0, 0.0, 250.0, 500.0])


def test_the_year_of_a_back_up_source(ledger: Ledger) -> None:
    backup = ledger.loads.backup
    assert backup is not None
    use = use_of(backup, ledger)
    starts = np.flatnonzero(np.diff(ledger.running, prepend=0.0) > 0)
    stops = np.flatnonzero(np.diff(ledger.running, append=0.0) < 0)
    assert (stops[: len(starts)] - starts + 1 >= 2).all()  # least run: 2 h
    assert use.hours * 2 == ledger.running.sum()
    assert use.starts_a_year * 2 == len(starts)
    assert use.fuel_l == pytest.approx((0.1 * use.hours * 2 + 0.3 * ledger.backup_w.sum() / backup.most_w) / 2)
    assert use.taken_wh == pytest.approx(use.given_wh / 0.96)
    summary = summary_of(ledger)
    assert summary.backup == use
    assert {one.name for one in summary.spread} >= {"harvest", "unserved", "fuel", "back-up hours"}
    assert 14.2 * 30 > backup.most_w > 12.0 * 30  # its current at the battery's voltage, less the wire


def test_it_serves_what_went_without(ledger: Ledger) -> None:
    without = reckon(read_text(SITE.replace("starts at: 10 %, stops at: 80 %, least run: 2 h,\n        fuel: 0.4 l/h, "
                                            "idle fuel: 0.1 l/h", "power: 400 W")))  # fmt: skip
    assert any("never told to start" in note for note in without.notes)
    assert without.unserved_w.sum() > ledger.unserved_w.sum()


def test_thresholds_that_do_nothing_are_told() -> None:
    text = SITE.replace("battery:", "battery:", 1).replace("zone: hut}\nparts", "cut-off: 12.9 V, zone: hut}\nparts")
    notes = reckon(read_text(text.replace("{3: 30..50 %, 2: 15 %}", "{9: 60 %, 3: 30..50 %, 2: 1 %}"))).notes
    assert any("shed 9: no device" in note for note in notes)
    assert any("shed 2: the battery is cut off" in note for note in notes)
    assert not any("shed 3" in note for note in notes)


@pytest.mark.parametrize(("n_step", "share"), [(5, 0.4), (8, 0.5), (6, 0.55)])
def test_starts_of_a_random_walk(outside, n_step: int, share: float) -> None:  # type: ignore[no-untyped-def]
    """A battery of N steps, up with probability p else down, filled within the hour when it is empty.

    From step k down to k - 1 it takes h(k) = (1 + p h(k + 1)) / (1 - p) hours on average, h(N) = 1 / (1 - p) below the
    full end; a round is their sum and the hour of filling.
    """
    n_hour = 400_000
    up = np.random.default_rng(11).random(n_hour) < share
    walk = replace(dark(n_hour, 1.0), harvest_w=2.0 * up)
    full = float(n_step)
    out = run(walk, replace(PLAIN, full_wh=full, start_wh=full, backup=Starts(full + 1.0, 0.0, full, 1.0)))
    down, each = 0.0, 0.0
    for _ in range(n_step):
        each = (1.0 + share * each) / (1.0 - share) if each else 1.0 / (1.0 - share)
        down += each
    begun = np.diff(out[RUNNING], prepend=0.0) > 0
    found, exact = begun.mean(), 1.0 / (down + 1.0)
    blocks = begun.reshape(100, -1).mean(axis=1)
    error = blocks.std(ddof=1) / 10.0
    outside(source="random-walk", place="mean time between two barriers", read="computed",
            what="starts of a back-up source", deviation=float(abs(found / exact - 1)))  # fmt: skip
    assert out[UNSERVED].sum() == 0.0
    assert abs(found - exact) < 4 * error
    assert error < 0.05 * exact


def test_only_one_source_backs_up() -> None:
    more = SITE.replace("  lamp:", "  second: {kind: charger, from: mains, voltage: 14.2 V, current: 9 A, "
                        "starts at: 5 %, stops at: 50 %}\n  lamp:", 1)  # fmt: skip
    with pytest.raises(SeasonError, match="start by themselves"):
        reckon(read_text(more))


def test_thresholds_may_be_voltages() -> None:
    text = SITE.replace("3: 30..50 %, 2: 15 %", "3: 13.1..13.3 V, 2: 12.9 V").replace(
        "starts at: 10 %", "starts at: 12.6 V"
    )
    text = text.replace("stops at: 80 %", "stops at: 13.6 V")
    rules = reckon(read_text(text)).rules
    assert rules.backup is not None
    states = [rules.full_wh, rules.backup.stop_wh, rules.sheds[0][0], rules.sheds[1][0], rules.backup.start_wh, 0.0]
    assert states == sorted(states, reverse=True)
    assert len(set(states)) == 6


def test_pictures_and_months_show_what_it_gives(ledger: Ledger) -> None:
    summary = summary_of(ledger)
    assert sum(month.backup_wh for month in summary.months) > 0.0
    for month in summary.months:
        assert month.backup_wh >= 0.0
    daily = np.array([month.backup_wh for month in summary.months])
    days = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    assert (daily * days).sum() == pytest.approx(ledger.backup_w.sum() / 2)
    made = pictures(ledger)
    assert "back-up" in made["months.svg"]
    assert "back-up" in made["worst-fortnight.svg"]


def test_where_nothing_lacks_the_fortnight_of_most_back_up_is_shown() -> None:
    text = SITE.replace("season: {shed: {3: 30..50 %, 2: 15 %}}\n", "").replace("starts at: 10 %", "starts at: 30 %")
    ledger = reckon(read_text(text))
    assert ledger.unserved_w.sum() == pytest.approx(0.0, abs=1e-6)
    daily = ledger.backup_w.reshape(-1, 24).sum(axis=1)
    sums = [daily[i : i + 14].sum() for i in range(daily.size - 13)]
    assert sum(day.backup_wh for day in summary_of(ledger).worst) == pytest.approx(max(sums))
