"""Every language says everything, and every text that a template asks for exists."""

import re
from importlib.resources import files
from string import Formatter

import pytest

from ohmstead.web.words import LANGUAGES, Words, catalogue

TEMPLATES = files("ohmstead.web").joinpath("templates")


@pytest.mark.parametrize("language", sorted(set(LANGUAGES) - {"en"}))
def test_a_language_is_complete(language):
    ours, english = catalogue(language), catalogue("en")
    assert set(english) - set(ours) == set()
    for key, text in english.items():
        assert {f for _, f, _, _ in Formatter().parse(text)} == {f for _, f, _, _ in Formatter().parse(ours[key])}, key


def test_texts_that_templates_ask_for_exist():
    known = catalogue("en")
    for template in TEMPLATES.iterdir():
        text = template.read_text(encoding="utf-8")
        for key in re.findall(r"\bt\('([\w.-]+)'[,)]", text):
            assert key in known, (template.name, key)


def test_no_template_speaks_by_itself():
    """Words between tags come from the catalogue."""
    for template in TEMPLATES.iterdir():
        text = re.sub(r"\{[{%#].*?[}%#]\}", "", template.read_text(encoding="utf-8"), flags=re.S)
        said = [word for word in re.findall(r">([^<]+)<", text) if re.search(r"[A-Za-z]{4,}", word)]
        spoken = {word.strip() for word in said if not word.startswith("ohmstead ")}  # a command is no language
        assert spoken <= {"Ohmstead"}, template.name


def test_an_unknown_kind_keeps_its_word():
    assert Words("de").kind("flux gate") == "flux gate"
