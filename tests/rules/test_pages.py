"""Every rule's page holds two small sites: the first must make the rule speak, the second must keep it silent."""

import pytest

from ohmstead import study
from ohmstead.evidence.finding import Severity
from ohmstead.rules.catalogue import asks, example, page, rule_names

SECTIONS = ("What", "Why", "Mend", "Cannot see", "Source", "Fails", "Passes")


def spoken(slug, section):
    one = study.from_text(example(slug, section), f"{slug}-{section.lower()}.yaml")
    found = one.findings if asks(slug) == "site" else study.season_findings(one.site)
    return [finding for finding in found if finding.rule == slug]


@pytest.mark.parametrize("slug", rule_names())
def test_failing_example_makes_the_rule_speak(slug):
    findings = spoken(slug, "Fails")
    assert findings
    for finding in findings:
        assert "{" not in finding.message + finding.mend
        assert finding.place.line > 1
        assert finding.severity is not Severity.FINE


@pytest.mark.parametrize("slug", rule_names())
def test_passing_example_keeps_the_rule_silent(slug):
    assert spoken(slug, "Passes") == []


@pytest.mark.parametrize("slug", rule_names())
def test_page_has_every_section(slug):
    found = page(slug)
    assert [name for name in SECTIONS if not found.sections.get(name)] == []
    assert found.sentence.endswith(".")


def test_there_are_at_least_forty_rules():
    assert len(rule_names()) >= 40
