"""What to switch off: the least of all sets, found again by trying every one, and what it leaves is served."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ohmstead.cli.main import main
from ohmstead.season import least
from ohmstead.season.choices import Option, load_with, options_of
from ohmstead.season.least import Choice, cost, least_loss
from ohmstead.season.matters import matters
from ohmstead.season.reckon import reckon
from ohmstead.season.survive import survive, worst_stretch
from ohmstead.site.read import read_text

SITE = """ohmstead: 1
site: {name: hut, latitude: 46, longitude: 8, timezone: Europe/Zurich}
zones: {hut: {air: 2..30 °C}}
battery:
  bank: {chemistry: LFP, cells: 4, capacity: 100 Ah, limits: {discharge: 60 A, charge: 50 A}, zone: hut}
parts:
  sun charger: {kind: charger, from: sun, array: roof, voltage: 14.2 V, current: 20 A}
  lamp: {kind: device, input: 9..15 V, draws: 6 W, duty: {on: dusk..dawn}}
  radio: {kind: device, input: 9..15 V, draws: {listening: 3 W, sending: 15 W}, priority: 2,
          duty: {sending: 6 h a day, listening: rest}}
  tv: {kind: device, input: 9..15 V, draws: 30 W, duty: 3 h a day between 17:00-23:00, priority: 3}
  fan: {kind: device, input: 9..15 V, draws: 3 W, priority: 3}
runs:
  - {from: sun charger, to: bank, length: 1 m, wire: 6 mm2}
  - {from: bank, to: lamp, length: 4 m, wire: 2.5 mm2}
  - {from: bank, to: radio, length: 4 m, wire: 2.5 mm2}
  - {from: bank, to: tv, length: 4 m, wire: 2.5 mm2}
  - {from: bank, to: fan, length: 4 m, wire: 2.5 mm2}
weather:
  monthly sun: 1.2 2.0 3.2 4.2 5.0 5.6 5.9 5.1 3.8 2.4 1.4 1.0 kWh/m²
  monthly air: 0 1 5 9 13 17 19 18 15 10 4 1 °C
  years: 2
arrays: {roof: {module power: 120 W, tilt: 40°, azimuth: 180°}}
shade: {obstacles: {rowan: {shape: tree, north: -8 m, top: 5 m, width: 4 m}}}
"""


def option(device: str, state: str, priority: int, saved: float, kept: float) -> Option:
    return Option(device, state, priority, np.array([saved]), np.array([kept]))


def every(options: tuple[Option, ...]) -> list[Choice]:
    """All sets with at most one option a device."""
    names = list(dict.fromkeys(one.device for one in options))
    ways = [(None, *(one for one in options if one.device == name)) for name in names]
    return [tuple(one for one in picks if one is not None) for picks in product(*ways)]


def spared(chosen: Choice) -> float:
    return sum(float(one.saved_w.sum()) for one in chosen)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6), st.integers(1, 6), st.floats(0.05, 1.1))
def test_no_other_set_loses_less(seed: int, n_device: int, part: float) -> None:
    """Compared priority by priority, the most important first: uses lost, then energy that is kept back."""
    dice = np.random.default_rng(seed)
    options: list[Option] = []
    for number in range(n_device):
        saved, priority = float(dice.uniform(1, 50)), int(dice.integers(1, 4))
        options.append(option(f"d{number}", "", priority, saved, 0.9 * saved))
        if dice.random() < 0.5:
            options.append(option(f"d{number}", "idle", priority, 0.5 * saved, 0.4 * saved))
    needed = part * sum(float(one.saved_w.sum()) for one in options if one.state == "")

    def by_priority(chosen: Choice) -> list[tuple[float, float]]:
        return [cost(tuple(one for one in chosen if one.priority == p)) for p in (1, 2, 3)]

    found, how = least_loss(options, lambda chosen: spared(chosen) >= needed)
    good = [by_priority(chosen) for chosen in every(tuple(options)) if spared(chosen) >= needed]
    if not good:
        assert found is None
        return
    assert found is not None
    assert how == "least"
    assert np.array(by_priority(found)) == pytest.approx(np.array(min(good)))


def test_with_many_devices_the_programme_takes_no_more_uses(monkeypatch: pytest.MonkeyPatch) -> None:
    dice = np.random.default_rng(3)
    saved = dice.uniform(1, 50, 9)
    options = [option(f"d{i}", "", 1, float(one), 0.9 * float(one)) for i, one in enumerate(saved)]
    for part in (0.2, 0.5, 0.8):
        needed = part * saved.sum()
        exact, _ = least_loss(options, lambda chosen, needed=needed: spared(chosen) >= needed)
        with monkeypatch.context() as patched:
            patched.setattr(least, "MOST_TRIED", 1)
            found, how = least_loss(options, lambda chosen, needed=needed: spared(chosen) >= needed)
        assert how == "least by energy"
        assert found is not None
        assert exact is not None
        assert spared(found) >= needed
        assert len(found) == len(exact)


def without(device: str, state: str, text: str) -> str:
    """The site file with a device taken out, or held in a state."""
    if state:
        return text.replace("duty: {sending: 6 h a day, listening: rest}", f"duty: {{{state}: always}}")
    text = text.replace("priority: 2,\n          duty", "priority: 2, duty")
    return "\n".join(line for line in text.splitlines() if f"  {device}:" not in line and f"to: {device}," not in line)


def lacking(text: str, first: int, last: int) -> float:
    return float(reckon(read_text(text)).unserved_w[first:last].sum())


def test_what_stays_on_is_served_and_one_thing_less_is_not_enough() -> None:
    """Told again by site files from which the devices are gone: the battery is full when the stretch begins."""
    site = read_text(SITE)
    ledger = reckon(site)
    found = survive(site, ledger)
    assert found.verdict == "possible"
    assert found.lacking_wh > 0.0
    assert found.left_wh <= 1e-3
    assert found.lowest_fraction >= found.lowest_before_fraction
    gone = {one.device: one.priority for one in found.measures}
    assert "lamp" not in gone  # priority 1, and the others are enough
    assert set(gone) & {"tv", "fan"}
    assert set(gone) | set(found.kept) == {"lamp", "radio", "tv", "fan"}
    hours = (found.stretch.first, found.stretch.last)
    text = SITE
    for one in found.measures:
        text = without(one.device, one.state, text)
    assert lacking(text, *hours) == pytest.approx(0.0, abs=1e-3)
    for spared_one in found.measures:
        text = SITE
        for one in found.measures:
            text = text if one == spared_one else without(one.device, one.state, text)
        assert lacking(text, *hours) > 1.0


def test_the_stretch_begins_full_and_ends_with_the_worst_days() -> None:
    ledger = reckon(read_text(SITE))
    stretch = worst_stretch(ledger, 5)
    assert ledger.state_fraction[stretch.first - 1] >= 0.99
    assert (ledger.state_fraction[stretch.first : stretch.week] < 0.99).all()
    assert stretch.last - stretch.week == 5 * 24
    daily = ledger.unserved_w.reshape(-1, 24).sum(axis=1)
    sums = [daily[i : i + 5].sum() for i in range(daily.size - 4)]
    assert daily[stretch.week // 24 : stretch.last // 24].sum() == pytest.approx(max(sums))


def test_options_together_save_what_the_network_says() -> None:
    """Each alone, added up, against the network solved without all of them: converters apart, within 3 %."""
    site = read_text(SITE)
    ledger = reckon(site)
    off = [one for one in options_of(site, ledger.bank, ledger.hours) if one.state == ""]
    whole, less = (load_with(site, ledger.bank, ledger.hours, some)[1].mean() for some in ((), off))
    assert sum(float(one.saved_w.mean()) for one in off) == pytest.approx(whole - less, rel=0.03)


def test_nothing_to_do_and_nothing_to_be_done() -> None:
    rich = read_text(SITE.replace("120 W", "900 W").replace("100 Ah", "400 Ah"))
    assert survive(rich, reckon(rich)).verdict == "nothing"
    poor = read_text(SITE.replace("current: 20 A", "current: 20 A, night draw: 60 W").replace("120 W", "10 W"))
    found = survive(poor, reckon(poor))
    assert found.verdict == "impossible"
    assert found.left_wh > 0.0
    assert found.kept == ()


def test_what_matters_is_what_a_change_of_the_file_does() -> None:
    """Turned in the file itself and reckoned anew, array, battery and lamp do what the ranking says."""
    site = read_text(SITE)
    found = matters(site, reckon(site))
    turns = {turn.name: turn for turn in found.turns}
    assert {"roof", "battery", "lamp", "radio", "tv", "fan", "light through rowan", "dirt on roof"} <= set(turns)
    for name, old, new in (("roof", "120 W", "132 W"), ("battery", "100 Ah", "110 Ah"), ("lamp", "6 W", "5.4 W")):
        ledger = reckon(read_text(SITE.replace(old, new)))
        unserved = float(ledger.unserved_w.sum() / ledger.asked_w.sum())
        moved = found.unserved_fraction - unserved
        assert moved > 0.0
        assert found.unserved_fraction - turns[name].unserved_better_fraction == pytest.approx(moved, rel=0.05), name
    sizes = [max(abs(t.unserved_better_fraction - found.unserved_fraction),
                 abs(t.unserved_worse_fraction - found.unserved_fraction)) for t in found.turns]  # fmt: skip
    assert sizes == sorted(sizes, reverse=True)


def test_the_commands_tell_it(tmp_path, capsys: pytest.CaptureFixture[str]) -> None:  # type: ignore[no-untyped-def]
    file = tmp_path / "hut.yaml"
    file.write_text(SITE, encoding="utf-8")
    assert main(["survive", str(file)]) == 0
    told = capsys.readouterr().out
    assert "Switch these off" in told
    assert "Stays on: lamp" in told
    assert main(["survive", str(file), "--json", "--days", "3"]) == 0
    assert '"verdict": "possible"' in capsys.readouterr().out
    assert main(["season", str(file), "--matters", "--json"]) == 1
    assert '"unserved_better_fraction"' in capsys.readouterr().out
    assert main(["season", str(file), "--years", "enough", "--matters"]) == 1
    told = capsys.readouterr().out
    assert "What matters most" in told
    assert "years drawn" in told
    file.write_text(SITE.replace("120 W", "900 W").replace("100 Ah", "400 Ah"), encoding="utf-8")
    assert main(["survive", str(file)]) == 0
    assert "Nothing has to be switched off" in capsys.readouterr().out
