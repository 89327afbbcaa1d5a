"""Rules that judge a season: asked only when a season is reckoned, accepted like any other, right by hand."""

from pathlib import Path

import pytest

from ohmstead import study
from ohmstead.cli.main import main
from ohmstead.evidence.finding import Severity
from ohmstead.rules.catalogue import asks, example, module_of, rule_names
from ohmstead.season.view import view_of

EXAMPLES = Path(__file__).parents[2] / "examples"
SEASON = [slug for slug in rule_names() if asks(slug) == "season"]


def one(slug: str, section: str = "Fails"):
    site = study.from_text(example(slug, section), "site.yaml").site
    view = view_of(site)
    return view, [finding for finding in study.season_findings(site, view) if finding.rule == slug]


def test_there_are_rules_of_both_kinds():
    assert len(SEASON) >= 8
    assert {asks(slug) for slug in rule_names()} == {"site", "season"}


@pytest.mark.parametrize("slug", ["worst-month-missed", "cold-battery-refuses-sun"])
def test_a_plain_check_does_not_ask_them(slug):
    plain = study.from_text(example(slug, "Fails"), "site.yaml")
    assert {finding.rule for finding in plain.findings}.isdisjoint(SEASON)
    both = study.SeasonStudy(plain.site).findings
    assert slug in {finding.rule for finding in both}
    assert {finding.rule for finding in both} > {finding.rule for finding in plain.findings}
    gravity = [list(Severity).index(finding.severity) for finding in both]
    assert gravity == sorted(gravity)


def test_an_accepted_one_stays_and_no_longer_fails(tmp_path, capsys):
    text = example("worst-month-missed", "Fails")
    accepted = "accepted:\n  - {finding: worst-month-missed, because: the hut is closed in winter}\n"
    (finding,) = [f for f in study.season_findings(study.from_text(text + accepted, "site.yaml").site)
                  if f.rule == "worst-month-missed"]  # fmt: skip
    assert finding.accepted == "the hut is closed in winter"
    assert study.unknown_acceptances(study.from_text(text + accepted, "site.yaml").site) == ()
    file = tmp_path / "hut.yaml"
    file.write_text(text + accepted, encoding="utf-8")
    main(["check", str(file), "--season"])
    assert "the hut is closed in winter" in capsys.readouterr().out


def test_the_commands_ask_them(tmp_path, capsys):
    file = tmp_path / "hut.yaml"
    file.write_text(example("worst-month-missed", "Fails"), encoding="utf-8")
    assert main(["check", str(file), "--season"]) == 1
    assert "worst-month-missed" in capsys.readouterr().out
    main(["check", str(file)])
    assert "worst-month-missed" not in capsys.readouterr().out
    assert main(["season", str(file)]) == 1
    assert "worst-month-missed" in capsys.readouterr().out
    assert main(["explain", "worst-month-missed", str(file)]) == 0
    assert "DECEMBER" in capsys.readouterr().out.upper()
    lines = [line for line in file.read_text(encoding="utf-8").splitlines() if not line.startswith("weather")]
    file.write_text("\n".join(lines), encoding="utf-8")
    assert main(["check", str(file), "--season"]) == 2
    assert "weather" in capsys.readouterr().err


def test_a_sunny_example_is_not_found_wanting():
    site = study.open_site(EXAMPLES / "saltpan" / "saltpan.yaml").site
    assert [finding.rule for finding in study.season_findings(site) if finding.severity is not Severity.TIGHT] == []


def test_autonomy_by_hand():
    """14 Ah at 4 cells of about 3.28 V in the mean, down to nothing, over the mean load."""
    view, (finding,) = one("autonomy-too-short")
    mean_w = float(view.ledger.asked_w.mean())
    assert finding.value == pytest.approx(14 * 4 * 3.28 / mean_w * 3600, rel=0.02)
    assert finding.limit == 2 * 86400


def test_idle_draws_by_hand():
    """A converter that idles at 4 W takes 96 Wh a day and a little for its wire."""
    view, (finding,) = one("idle-draws-eat-winter-sun")
    december = view.summary.months[11]
    assert december.harvest_wh == min(month.harvest_wh for month in view.summary.months)
    assert finding.value == pytest.approx(96.0 / december.harvest_wh, rel=0.01)


def test_a_slow_refill_by_hand():
    view, (finding,) = one("array-slow-to-refill")
    refill = view.refill
    usable = view.ledger.rules.full_wh - max(view.ledger.rules.cut_wh, view.ledger.rules.floor_wh)
    assert finding.value == pytest.approx(usable / (refill.sunny_wh - refill.asked_wh) * 86400)
    daily = view.ledger.harvest_w.reshape(-1, 365, 24).sum(axis=2)
    assert (daily[:, 334:] < refill.sunny_wh).mean() == pytest.approx(0.9, abs=0.02)  # December


def test_cold_hours_are_those_of_a_frozen_battery_with_sun_to_spare():
    view, (finding,) = one("cold-battery-refuses-sun")
    ledger = view.ledger
    counted = sum(
        1
        for cell, spilled, state in zip(ledger.cells_c, ledger.spilled_w, ledger.state_fraction, strict=True)
        if cell < 0 and spilled > 1 and state < 0.9
    )
    assert finding.value == round(counted / 2)


@pytest.mark.parametrize("slug", SEASON)
def test_a_season_rule_is_light_to_import(slug):
    """Listing the rules must not need numpy: names it at most for type checkers."""
    source = Path(module_of(slug).__file__).read_text(encoding="utf-8")
    assert "import numpy" not in source
    assert "from ..season" not in source.split("if TYPE_CHECKING:")[0]
