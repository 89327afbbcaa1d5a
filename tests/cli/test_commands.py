"""The command line as its users meet it: what it prints, where, and with which exit status."""

import json
from pathlib import Path

import pytest

from ohmstead.cli.main import COMMANDS, main

EXAMPLES = Path(__file__).parents[2] / "examples"
MENDED = str(EXAMPLES / "skerry" / "skerry-mended.yaml")
MISTAKEN = str(EXAMPLES / "skerry" / "skerry.yaml")
CABIN = str(EXAMPLES / "cabin" / "cabin.yaml")


def run(capsys, *words):
    status = main(words)
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return status, out, err


def test_a_site_in_order_ends_with_0(capsys):
    status, out, _ = run(capsys, "check", MENDED)
    assert status == 0
    assert "Local codes and licensed practice decide" in out


def test_a_site_with_faults_ends_with_1(capsys):
    status, out, _ = run(capsys, "check", MISTAKEN)
    assert status == 1
    assert "mend" in out


@pytest.mark.parametrize("text", ["", "ohmstead: 1\nsite: {nam: x}\n", "\tohmstead: 1", "ohmstead: 9\n", "[1, 2"])
def test_a_file_that_cannot_be_used_ends_with_2(capsys, tmp_path, text):
    path = tmp_path / "bad.yaml"
    path.write_text(text)
    status, out, err = run(capsys, "check", str(path))
    assert (status, out) == (2, "")
    assert "bad.yaml" in err


def test_a_missing_file_ends_with_2(capsys, tmp_path):
    status, _, err = run(capsys, "check", str(tmp_path / "none.yaml"))
    assert status == 2
    assert "none.yaml" in err


def test_colour_only_when_wished(capsys):
    _, plain, _ = run(capsys, "check", MISTAKEN)
    _, coloured, _ = run(capsys, "check", MISTAKEN, "--colour", "always")
    assert "\x1b" not in plain
    assert "\x1b[" in coloured
    for word in ("DANGER", "FAILS"):
        assert (word in plain) == (word in coloured)


def test_json_says_the_same_as_the_report(capsys):
    status, out, _ = run(capsys, "check", MISTAKEN, "--json")
    document = json.loads(out)
    assert status == 1
    assert document["verdict"] == "fails"
    _, report, _ = run(capsys, "check", MISTAKEN)
    for finding in document["findings"]:
        assert finding["rule"] in report
        assert finding["subject"] in report


@pytest.mark.parametrize("what", ["parts", "runs", "cases"])
def test_listings_hold_every_row(capsys, what):
    status, out, _ = run(capsys, "list", CABIN, what)
    _, text, _ = run(capsys, "list", CABIN, what, "--json")
    assert status == 0
    for row in json.loads(text)[what]:
        assert row["name"] in out


def test_runs_show_both_lengths_in_words(capsys):
    _, out, _ = run(capsys, "list", CABIN, "runs")
    assert "5 m (16 ft) one way, 10 m (33 ft) out and back" in out


def test_a_case_can_be_replayed_alone(capsys):
    status, out, _ = run(capsys, "case", CABIN, "low-hot-busy")
    assert status == 0
    assert "mini computer" in out
    _, text, _ = run(capsys, "case", CABIN, "low-hot-busy", "--json")
    assert json.loads(text)["residual_a"] < 1e-6


def test_an_unknown_case_or_rule_names_its_neighbours(capsys):
    status, _, err = run(capsys, "case", CABIN, "low-hot-bussy")
    assert status == 2
    assert "low-hot-busy" in err
    status, _, err = run(capsys, "explain", "fuse-over-cabel")
    assert status == 2
    assert "fuse-over-cable" in err


def test_explain_shows_page_and_numbers(capsys):
    status, out, _ = run(capsys, "explain", "fuse-over-cable", MISTAKEN)
    assert status == 0
    assert "Why" in out
    assert "how" in out or "known" in out


def test_rules_lists_every_rule(capsys):
    from ohmstead.rules.catalogue import rule_names

    _, out, _ = run(capsys, "rules")
    assert all(name in out for name in rule_names())


def test_schema_is_json(capsys):
    _, out, _ = run(capsys, "schema")
    assert json.loads(out)["$schema"].startswith("https://json-schema.org/")


def test_netlist_ends_like_one(capsys):
    status, out, _ = run(capsys, "netlist", CABIN)
    assert status == 0
    assert out.strip().endswith(".end")


def test_every_command_has_help(capsys):
    for name in COMMANDS:
        with pytest.raises(SystemExit) as stop:
            main([name, "--help"])
        assert stop.value.code == 0
        assert "usage" in capsys.readouterr().out


def answers(monkeypatch, *lines):
    left = list(lines)

    def reply(question):
        if not left:
            raise EOFError
        return left.pop(0)

    monkeypatch.setattr("builtins.input", reply)


def test_start_writes_a_file_that_can_be_checked(capsys, monkeypatch, tmp_path):
    path = str(tmp_path / "hut.yaml")
    answers(
        monkeypatch,
        "Hut",
        "lfp",
        "12.8 V",
        "100 Ah",
        "",
        "1,5 m",
        "radio",
        "11..15 V",
        "2..20 W",
        "3 m",
        "computer",
        "19 V ± 5 %",
        "5..60 W",
        "10 ft",
        "",
    )
    assert run(capsys, "start", path)[0] == 0
    status, out, err = run(capsys, "check", path)
    assert status in (0, 1)
    assert "choice-left-open" in out
    assert err == ""


def test_a_started_file_is_fit_to_build_once_its_sizes_are_chosen(capsys, monkeypatch, tmp_path):
    path = str(tmp_path / "hut.yaml")
    answers(monkeypatch, "Hut", "LFP", "12.8 V", "100 Ah", "", "1 m", "lamps", "10..15 V", "12 W", "4 m", "")
    assert run(capsys, "start", path)[0] == 0
    assert run(capsys, "choose", path, "--write")[0] == 0
    assert run(capsys, "check", path)[0] == 0


def test_start_asks_again_after_a_wrong_answer(capsys, monkeypatch, tmp_path):
    answers(monkeypatch, "Hut", "nickel", "LFP", "12.8", "12.8 V", "100 Ah", "100 A", "1 m", "")
    status, out, _ = run(capsys, "start", str(tmp_path / "hut.yaml"))
    assert status == 0
    assert "voltage needs a unit" in out


def test_start_never_overwrites_and_writes_nothing_when_given_up(capsys, monkeypatch, tmp_path):
    path = tmp_path / "mine.yaml"
    path.write_text("mine")
    assert run(capsys, "start", str(path))[0] == 2
    assert path.read_text() == "mine"
    answers(monkeypatch, "Hut")
    assert run(capsys, "start", str(tmp_path / "new.yaml"))[0] == 2
    assert not (tmp_path / "new.yaml").exists()
