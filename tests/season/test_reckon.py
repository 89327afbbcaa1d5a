"""A season from a site file: the ledger closes, the summary says what the ledger holds, bad input is told."""

import json
from dataclasses import replace

import numpy as np
import pytest

from ohmstead.cli.main import main
from ohmstead.season.clock import dark_share
from ohmstead.season.given import harvest_of
from ohmstead.season.pictures import pictures
from ohmstead.season.reckon import reckon, reckon_with, with_years
from ohmstead.season.trouble import SeasonError
from ohmstead.season.year import months_of, summary_of, worst_begin
from ohmstead.site.read import read_text
from ohmstead.sun.calendar import clock
from ohmstead.sun.harvest import harvest_w
from ohmstead.sun.hours import Given
from season.hut import HUT

OPEN_SKY = HUT.replace("shade: {horizon: {line: {90°: 4°, 180°: 8°, 270°: 12°}}}\n", "")
SITE = OPEN_SKY.replace("air: 4..30 °C", "air: -6..30 °C").replace("years: 4", "years: 5")


def test_every_hour_closes_and_the_months_add_up_to_the_years() -> None:
    ledger = reckon(read_text(SITE))
    assert ledger.imbalance() < 1e-9
    found = summary_of(ledger)
    days = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    for name, series in (("served_wh", ledger.served_w), ("unserved_wh", ledger.unserved_w),
                         ("spilled_wh", ledger.spilled_w), ("array_wh", ledger.array_w)):  # fmt: skip
        by_month = sum(n * getattr(month, name) for n, month in zip(days, months_of(ledger), strict=True))
        assert by_month * 5 == pytest.approx(float(series.sum()), rel=1e-9)
    assert found.asked_wh_a_day * 365 * 5 == pytest.approx(float(ledger.asked_w.sum()))
    assert len(found.by_year_fraction) == found.n_year == 5
    table = ledger.table()
    assert len(table) == 5 * 8760
    assert table["served_w"].sum() == pytest.approx(float(ledger.served_w.sum()))


def test_the_worst_fortnight_lacks_most() -> None:
    ledger = reckon(with_years(read_text(SITE.replace("100 W, in series: 2", "100 W")), 2))
    daily = ledger.unserved_w.reshape(-1, 24).sum(axis=1)
    sums = [daily[i : i + 14].sum() for i in range(daily.size - 13)]
    assert sums[worst_begin(ledger)] == max(sums) > 0
    assert sum(day.unserved_wh for day in summary_of(ledger).worst) == pytest.approx(max(sums))


def test_harvest_less_what_the_battery_is_offered_is_controller_and_wire() -> None:
    ledger = reckon(with_years(read_text(SITE), 1))
    lit = ledger.array_w > 1.0
    passed = ledger.harvest_w[lit] / ledger.array_w[lit]
    assert (passed < 0.96).all()
    assert passed.max() > 0.95
    assert ledger.harvest_w.max() <= 20.0 * ledger.bank.nominal_v  # the controller's current


def test_more_of_everything_serves_more() -> None:
    lacks = [summary_of(reckon(read_text(SITE.replace("in series: 2", f"in series: {n}")))).unserved_fraction
             for n in (1, 2, 4)]  # fmt: skip
    assert lacks[0] > lacks[1] > lacks[2]
    larger = summary_of(reckon(read_text(SITE.replace("100 Ah", "300 Ah")))).unserved_fraction
    assert larger < lacks[1]


def test_the_cold_keeps_lithium_from_charging() -> None:
    """The same hut with a battery that never freezes spills less in January."""
    cold, warm = (reckon(with_years(read_text(text), 1)) for text in (SITE, SITE.replace("-6..30", "6..30")))
    assert months_of(cold)[0].spilled_wh > months_of(warm)[0].spilled_wh


def test_south_of_the_equator_the_worst_weeks_come_in_june_or_july() -> None:
    south = SITE.replace("latitude: 46", "latitude: -46").replace("azimuth: 180°", "azimuth: 0°")
    first, last = "1.2 2.0 3.2 4.2 5.0 5.6", "5.9 5.1 3.8 2.4 1.4 1.0"
    south = south.replace(f"{first} {last}", f"{last} {first}")
    worst = summary_of(reckon(read_text(south.replace("in series: 2", "in series: 1")))).worst
    assert {day.month for day in worst} <= {5, 6, 7, 8}


def test_a_clear_sky_is_called_optimistic() -> None:
    lines = [line for line in SITE.splitlines() if "monthly sun" not in line]
    text = "\n".join(lines).replace("  years: 5", "  clear sky: yes")
    assert any("optimistic" in note for note in reckon(read_text(text)).notes)


def test_no_load_lacks_nothing() -> None:
    text = "\n".join(line for line in SITE.splitlines() if "lamp" not in line and "radio" not in line)
    text = text.replace("night draw: 0.5 W", "night draw: 0 W")
    found = summary_of(reckon(read_text(text)))
    assert (found.unserved_fraction, found.verdict) == (0.0, "met")
    assert found.asked_wh_a_day == pytest.approx(0.0, abs=1e-6)


def test_leap_years_are_whole_years_of_their_own_sun() -> None:
    """2004 has a 29 February, which is left out; the night of 1 March is that of 1 March."""
    site = with_years(read_text(SITE), 1)
    ledger = reckon(site)
    start, year = clock(2004, 1, 3600)
    leap = replace(ledger.hours, start_utc_s=start, year=year)
    shares = dark_share(leap)
    assert shares.shape == (8760,)
    assert ((shares >= 0) & (shares <= 1)).all()
    assert reckon_with(site, leap, harvest_w(site, leap)).imbalance() < 1e-9


@pytest.mark.parametrize(("without", "told"), [("arrays", "arrays"), ("weather", "weather")])
def test_what_is_missing_is_told(without: str, told: str) -> None:
    lines = SITE.splitlines()
    begin = next(i for i, line in enumerate(lines) if line.startswith(without))
    end = next(i for i in range(begin + 1, len(lines)) if not lines[i].startswith(" "))
    text = "\n".join(lines[:begin] + lines[end:])
    with pytest.raises(SeasonError, match=told):
        reckon(read_text(text))


def test_pictures_are_whole_and_the_same_each_time() -> None:
    from xml.etree import ElementTree

    ledger = reckon(with_years(read_text(SITE), 1))
    made = pictures(ledger)
    assert made == pictures(ledger)
    for text in made.values():
        assert ElementTree.fromstring(text).tag.endswith("svg")


def test_the_command_says_whether_the_goal_is_met(tmp_path, capsys: pytest.CaptureFixture[str]) -> None:  # type: ignore[no-untyped-def]
    file = tmp_path / "hut.yaml"
    file.write_text(SITE.replace("in series: 2", "in series: 8"), encoding="utf-8")
    assert main(["season", str(file), "--csv", str(tmp_path / "out"), "--pictures", str(tmp_path / "out")]) == 0
    told = capsys.readouterr().out
    assert "met" in told
    assert "A mean year by month" in told
    assert "full cycles a year" in told
    assert "Naumann" in told
    assert len((tmp_path / "out" / "hours.csv").read_text().splitlines()) == 5 * 8760 + 1
    file.write_text(SITE.replace("in series: 2", "in series: 1"), encoding="utf-8")
    assert main(["season", str(file), "--json", "--years", "4"]) == 1
    missed = json.loads(capsys.readouterr().out)
    assert missed["verdict"] == "missed"
    assert 0.0 < missed["wear"]["first_year_fraction"] < 0.1
    assert missed["wear"]["sources"] == ["naumann-2018", "naumann-2020"]
    file.write_text(SITE[: SITE.index("weather:")], encoding="utf-8")
    assert main(["season", str(file)]) == 2
    assert "weather" in capsys.readouterr().err


def test_a_series_of_the_panels_own_is_taken_as_it_is() -> None:
    """1000 W/m² and cells at 25 °C would give the rating; dirt, mismatch, warm cells and the cable take theirs."""
    site = with_years(read_text(SITE), 1)
    hours = replace(reckon(site).hours, air_c=np.full(8760, 20.0))
    sunny = np.full(8760, 1000.0)
    in_plane = harvest_of(site, Given("plane", {"": sunny}, hours)).by_array_w["roof"]
    assert (in_plane < 200 * 0.97 * 0.98 * 0.98).all()
    assert (in_plane > 200 * 0.97 * 0.98 * 0.98 * 0.85).all()
    measured = harvest_of(site, Given("harvest", {"roof": sunny}, hours))
    assert measured.by_array_w["roof"] is sunny
    assert reckon_with(site, hours, measured).imbalance() < 1e-9
    with pytest.raises(SeasonError, match="barn"):
        harvest_of(site, Given("harvest", {"barn": sunny}, hours))
