"""Every message names its place and carries its figures; every mend begins with what to do."""

import re

import pytest

from ohmstead import study
from ohmstead.evidence.finding import Finding, Words
from ohmstead.rules.catalogue import asks, module_of, rule_names
from rules.test_mends_hold import TEXTS

# What a builder is told to do; more may be added.
DOINGS = re.compile(
    r"add|break|bring|build|buy|change|check|connect|cover|crimp|feed|feel|fit|give|hang|join|keep|lay|leave|let|lower|"
    r"measure|move|put|raise|read|run|set|shorten|share|split|stand|start|state|switch|take|turn|unplug|use|wire|write"
)
NO_FIGURE = {"?", "nan", "inf", "∞", "None"}


def all_findings() -> list[tuple[str, Finding]]:
    found = [(name, one) for name, text in TEXTS.items() for one in study.from_text(text, "site.yaml").findings]
    seasons = [slug for slug in rule_names() if asks(slug) == "season"]
    sites = {slug: study.from_text(TEXTS[slug], "site.yaml").site for slug in seasons}
    return found + [(slug, one) for slug, site in sites.items() for one in study.season_findings(site)]


@pytest.fixture(scope="module")
def told() -> list[tuple[str, Finding]]:
    return all_findings()


def test_a_mend_begins_with_what_to_do(told):
    assert [one.mend for _, one in told if not DOINGS.fullmatch(one.mend.split()[0])] == []


def test_a_message_names_its_subject_or_the_place_of_it(told):
    for name, one in told:
        nearer = [part for part in re.split(r" -> | / \d+| and |, ", one.subject.replace(" (negative)", "")) if part]
        assert any(part in one.message for part in (one.subject, *nearer)), (name, one.rule, one.message)


def test_texts_are_tidy(told):
    for name, one in told:
        for text in (one.message, one.mend):
            assert not re.search(r"[{}]|  | ,| ;|\.$|,$|\ba an?\b", text), (name, one.rule, text)
            assert not NO_FIGURE & set(re.split(r"[\s,;:()]+", text)), (name, one.rule, text)
            assert not re.search(r"\ban? (?:8|11|18|8\d+)(?: |\.)", text), (name, one.rule, text)


def test_value_and_limit_never_look_the_same(told):
    for name, one in told:
        if one.value is not None and one.value != one.limit:
            assert str(one.numbers["value"]) != str(one.numbers["limit"]), (name, one.rule, one.message)


def test_no_verb_hangs_on_a_name_that_may_be_a_plural():
    """Lamps and batteries are names too: what they do is said of a current, a voltage or an input."""
    verbs = r"needs|gets|bears|takes|states|wants|draws|charges|gives up|asks"
    for slug in rule_names():
        for words in vars(module_of(slug)).values():
            if isinstance(words, Words):
                said = re.search(rf"(?<!of )(?<!of the )\{{subject\}} (?:{verbs})\b", words.message)
                assert said is None, (slug, words.message)
