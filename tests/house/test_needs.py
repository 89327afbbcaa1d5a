"""The table of problems in docs/needs.md names rules that exist, and the index of rules names them all."""

import re

from house.modules import ROOT
from ohmstead.rules.catalogue import rule_names

NEEDS = ROOT / "docs" / "needs.md"
INDEX = ROOT / "docs" / "rules" / "index.md"
LATER = ("bench work", "season work", "heat work", "drawing and labels", "parts list")


def rows(text: str) -> list[list[str]]:
    """The cells of every row that begins with a number."""
    lines = re.findall(r"^\| *(\d+ *\|.*)\|$", text, re.M)
    return [[cell.strip() for cell in line.split("|")] for line in lines]


def named(text: str) -> set[str]:
    """Slugs in code marks."""
    return set(re.findall(r"`([a-z][a-z0-9]*(?:-[a-z0-9]+)+)`", text))


def faults(text: str, known: tuple[str, ...]) -> list[str]:
    """Problems without an answer, and rules that are none."""
    found = [
        f"{number}: no rule and no word on what is left"
        for number, _, caught, left in rows(text)
        if not caught and not left
    ]
    for number, _, _, left in rows(text):
        later = re.search(r"later, (.*)$", left)
        if later and later[1] not in LATER:
            found.append(f"{number}: nobody knows what {later[1]} is")
    return found + [f"{slug} is no rule" for slug in sorted(named(text) - set(known))]


def test_all_forty_stand_in_the_table() -> None:
    assert [int(row[0]) for row in rows(NEEDS.read_text(encoding="utf-8"))] == list(range(1, 41))


def test_every_problem_has_a_rule_that_exists_or_a_place_later() -> None:
    assert faults(NEEDS.read_text(encoding="utf-8"), rule_names()) == []


def test_every_rule_answers_some_problem() -> None:
    assert sorted(set(rule_names()) - named(NEEDS.read_text(encoding="utf-8"))) == []


def test_every_rule_stands_in_the_index() -> None:
    listed = re.findall(r"^\| \[([\w-]+)\]\(\1\.md\) \|", INDEX.read_text(encoding="utf-8"), re.M)
    assert listed == list(rule_names())


def test_faults_are_found() -> None:
    text = "| 1 | a | `fuse-over-cable` | |\n| 2 | b | | |\n| 3 | c | `no-such-rule` | later, some day |\n"
    assert faults(text, ("fuse-over-cable",)) == [
        "2: no rule and no word on what is left",
        "3: nobody knows what some day is",
        "no-such-rule is no rule",
    ]
