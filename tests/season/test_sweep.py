"""Sweeps over designs: what they say of each, and that neither a stop nor a fall changes it."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from ohmstead.season import sweep as sweep_module
from ohmstead.season.designs import Offer, mixes_of, sky_facings, spread
from ohmstead.season.keep import Keep, KeepError
from ohmstead.season.reckon import with_years
from ohmstead.season.scene import cut_of, ledger_at, scene_of
from ohmstead.season.sweep import Progress, Stopped, run_sweep
from ohmstead.season.swept import HARVEST_WH, MET, MISSED, Swept
from ohmstead.season.trouble import SeasonError
from ohmstead.season.year import summary_of
from ohmstead.site.read import read_site, read_text
from ohmstead.site.sky import Goal

from .hut import HUT, OFFER, hut

HERE = Path(__file__)


@pytest.fixture(scope="module")
def swept() -> Swept:
    return run_sweep(hut(), OFFER)


def test_every_design_stands_once_in_a_fixed_order(swept: Swept) -> None:
    mixes = mixes_of(OFFER)
    seen = set(zip(mixes.facing, mixes.array, mixes.bank, mixes.cut, strict=True))
    assert len(seen) == OFFER.n_design == 3 * 12 * 3 * 2 == swept.rows.shape[1]
    table = swept.table()
    assert len(table) == OFFER.n_design
    assert set(table["verdict"]) == {"met", "open", "missed"}
    assert table["array_w"].max() == pytest.approx(400.0)
    assert table["battery_ah"].max() == pytest.approx(200.0)


@pytest.mark.parametrize("number", [0, 7, 61, 150, 215])
def test_a_design_of_the_sweep_is_the_season_of_that_site(swept: Swept, number: int) -> None:
    """The ledger follows the voltage of the battery, the sweep takes the load at half full: 1 % of the lack apart."""
    mixes, scene = swept.mixes, swept.scene
    ledger = ledger_at(scene, OFFER.facings[mixes.facing[number]], OFFER.arrays[mixes.array[number]],
                       OFFER.banks[mixes.bank[number]], OFFER.cuts[mixes.cut[number]])  # fmt: skip
    found, line = summary_of(ledger), swept.table().iloc[number]
    assert ledger.imbalance() < 1e-9
    assert line["unserved_fraction"] == pytest.approx(found.unserved_fraction, rel=0.01, abs=1e-5)
    assert line["dark_h_a_year"] == pytest.approx(found.dark_h, rel=0.02, abs=1.0)
    assert line["full_days_a_year"] == pytest.approx(found.full_days_a_year, abs=1.0)
    assert line["longest_not_full_days"] == pytest.approx(found.longest_not_full_days, abs=1)
    assert swept.spilled_fraction[number] == pytest.approx(found.spilled_fraction, abs=1e-3)
    assert line["most_unserved_fraction"] == pytest.approx(found.most_unserved_fraction, rel=0.02, abs=1e-5)
    assert line["lowest_fraction"] == pytest.approx(found.lowest_fraction, abs=5e-3)


def test_a_sweep_of_lead_follows_its_wells() -> None:
    """Within 5 % of the lack: the disconnect of a design may open an hour sooner or later than in the ledger."""
    scene = hut(HUT.replace("chemistry: LFP, cells: 4", "chemistry: lead AGM, cells: 6"))
    offer = Offer((1.0, 2.0), (scene.facing,), (0.5, 1.0, 2.0))
    swept = run_sweep(scene, offer)
    for number, line in enumerate(swept.table().itertuples()):
        array, bank = offer.arrays[swept.mixes.array[number]], offer.banks[swept.mixes.bank[number]]
        found = summary_of(ledger_at(scene, scene.facing, array, bank, (0.0, 0.0)))
        assert line.unserved_fraction == pytest.approx(found.unserved_fraction, rel=0.05, abs=1e-5)
        assert line.full_days_a_year == pytest.approx(found.full_days_a_year, abs=1.0)
        assert line.lowest_fraction == pytest.approx(found.lowest_fraction, abs=5e-3)


def test_the_site_as_it_is_stands_among_the_designs() -> None:
    scene = hut()
    found = run_sweep(scene, Offer((1.0,), (scene.facing,), (1.0,)))
    ledger = ledger_at(scene, scene.facing, 1.0, 1.0, (0.0, 0.0))
    assert ledger.harvest_w == pytest.approx(scene.drive.harvest_w)
    assert found.unserved_fraction[0] == pytest.approx(summary_of(ledger).unserved_fraction, rel=0.01)


def test_controllers_that_stay_bound_the_harvest() -> None:
    grows, stays = (run_sweep(scene_of(read_text(HUT), manner=manner), Offer((1.0, 4.0), ((60.0, 180.0),), (1.0, 3.0)))
                    for manner in ("grows", "stays"))  # fmt: skip
    assert stays.unserved_fraction[0] == pytest.approx(grows.unserved_fraction[0])
    assert (stays.unserved_fraction[2:] >= grows.unserved_fraction[2:]).all()
    most_w = 20.0 * stays.scene.bank.nominal_v
    assert stays.rows[HARVEST_WH, 2] < most_w * stays.scene.hours.n_hour
    assert stays.rows[HARVEST_WH, 2] < 0.97 * grows.rows[HARVEST_WH, 2]


def test_thresholds_are_those_of_the_bank(swept: Swept) -> None:
    scene = swept.scene
    low, back = cut_of(scene, 1.0, (12.6, 13.3))
    own, own_back = cut_of(scene, 1.0, (0.0, 0.0))
    assert own < low < back and own_back < back
    assert cut_of(scene, 4.0, (12.6, 13.3))[0] < low  # a larger bank sags less


def test_more_array_and_battery_serve_more_without_a_disconnect() -> None:
    text = HUT.replace("off: 12 V, on: 13.1 V", "off: 10.1 V, on: 10.2 V")
    found = run_sweep(hut(text), Offer(spread(0.5, 4.0, 6), ((45.0, 180.0),), spread(0.5, 4.0, 6)))
    lacks = found.unserved_fraction.reshape(6, 6)
    assert (np.diff(lacks, axis=0) <= 1e-12).all() and (np.diff(lacks, axis=1) <= 1e-12).all()
    assert found.verdict(Goal(unserved_fraction=1.0)).tolist() == [MET] * 36
    assert (found.verdict(Goal(unserved_fraction=0.0))[:3] == MISSED).all()


def test_pieces_change_nothing(swept: Swept, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sweep_module, "PIECE", 1)
    seen: list[Progress] = []
    again = run_sweep(swept.scene, Offer(spread(0.5, 4, 9), ((45.0, 180.0),), spread(0.5, 4, 15)), watch=seen.append)
    assert [step.n_done for step in seen] == [1, 2, 3]
    assert seen[0].left_s is not None and seen[0].left_s > 0.0 and seen[-1].left_s == 0.0
    monkeypatch.undo()
    whole = run_sweep(swept.scene, Offer(spread(0.5, 4, 9), ((45.0, 180.0),), spread(0.5, 4, 15)))
    np.testing.assert_array_equal(again.rows, whole.rows)


def test_a_sweep_that_was_stopped_goes_on(swept: Swept, tmp_path: Path) -> None:
    keep = str(tmp_path / "hut.sweep")

    def stop(step: Progress) -> None:
        if step.n_done == 5:
            raise KeyboardInterrupt

    with pytest.raises(Stopped, match="5 of 12"):
        run_sweep(swept.scene, OFFER, keep, watch=stop)
    seen: list[Progress] = []
    np.testing.assert_array_equal(run_sweep(swept.scene, OFFER, keep, watch=seen.append).rows, swept.rows)
    assert len(seen) == 7
    with pytest.raises(KeepError, match="another sweep"):
        run_sweep(swept.scene, Offer((1.0,), ((45.0, 180.0),), (1.0,)), keep)
    other = tmp_path / "notes.txt"
    other.write_text("milk, bread, a longer shopping list that no database begins with\n" * 20)
    with pytest.raises(KeepError, match="no file of a sweep"):
        run_sweep(swept.scene, OFFER, str(other))


def test_a_file_is_for_one_process_and_must_be_writable(tmp_path: Path) -> None:
    keep = Keep(tmp_path / "a.sweep", "mark")
    with pytest.raises(KeepError, match="another process"):
        Keep(tmp_path / "a.sweep", "mark")
    keep.add(0, np.ones((2, 3)))
    keep.close()
    again = Keep(tmp_path / "a.sweep", "mark")
    np.testing.assert_array_equal(again.done()[0], np.ones((2, 3)))
    again.close()
    with pytest.raises(KeepError, match="cannot be opened"):
        Keep(tmp_path / "nowhere" / "a.sweep", "mark")


def killed_half_way(keep: str) -> None:
    """Run by a child: it is killed by the system, without a chance to tidy up, after a third of the pieces."""

    def kill(step: Progress) -> None:
        if step.n_done == 4:
            os.kill(os.getpid(), signal.SIGKILL)

    run_sweep(hut(), OFFER, keep, watch=kill)


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="the system has no such signal")
def test_a_sweep_that_was_killed_goes_on(swept: Swept, tmp_path: Path) -> None:
    keep = tmp_path / "hut.sweep"
    code = f"from season.test_sweep import killed_half_way; killed_half_way({str(keep)!r})"
    done = subprocess.run([sys.executable, "-c", code], cwd=HERE.parents[1], capture_output=True, timeout=60,
                          check=False)  # fmt: skip
    assert done.returncode == -signal.SIGKILL, done.stderr.decode()[-2000:]
    seen: list[Progress] = []
    np.testing.assert_array_equal(run_sweep(swept.scene, OFFER, str(keep), watch=seen.append).rows, swept.rows)
    assert len(seen) == 8


def test_facings_cover_the_half_of_the_sky_with_the_sun() -> None:
    assert all(120.0 <= azimuth <= 240.0 for _, azimuth in sky_facings(50, 50.0))
    assert len(set(sky_facings(50, 50.0))) == 50
    assert {azimuth for _, azimuth in sky_facings(4, -20.0)} == {0.0}


def test_an_array_that_is_not_there_is_told() -> None:
    with pytest.raises(SeasonError, match="barn"):
        scene_of(read_text(HUT), "barn")


def test_shedding_is_in_the_sweep() -> None:
    """A site that sheds by priority, its sizes cut down until it must: the sweep against the whole ledger."""
    site = with_years(read_site(HERE.parents[2] / "examples" / "saltpan" / "saltpan.yaml"), 2)
    assert site.goal is not None and site.goal.shed
    scene = scene_of(site)
    offer = Offer((0.6, 0.8), (scene.facing,), (0.4, 0.7))
    table = run_sweep(scene, offer).table()
    for number, (size, ratio) in enumerate((a, b) for a in offer.arrays for b in offer.banks):
        found = summary_of(ledger_at(scene, scene.facing, size, ratio, (0.0, 0.0)))
        line = table.iloc[number]
        assert found.unserved_fraction > 0.001
        assert line["unserved_fraction"] == pytest.approx(found.unserved_fraction, rel=0.03)
        assert line["dark_h_a_year"] == pytest.approx(found.dark_h, rel=0.05)
