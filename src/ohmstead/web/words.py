"""Texts of the page, one catalogue a language; a word that a language lacks is shown in English."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from tomllib import loads

LANGUAGES = {"en": "English", "de": "Deutsch"}


@cache
def catalogue(language: str) -> Mapping[str, str]:
    """Key -> text of a language; keys are `section.name`. Raises KeyError for a language that is not there."""
    if language not in LANGUAGES:
        raise KeyError(language)
    text = files(__package__).joinpath("texts", f"{language}.toml").read_text(encoding="utf-8")
    return {f"{section}.{name}": said for section, words in loads(text).items() for name, said in words.items()}


def preferred(accepted: str) -> str:
    """The first language that a browser asks for and that is here; English otherwise.

    >>> preferred("de-AT,de;q=0.9,en;q=0.5")
    'de'
    """
    for part in accepted.split(","):
        language = part.split(";")[0].strip().lower()[:2]
        if language in LANGUAGES:
            return language
    return "en"


class Words:
    """The texts of one language, filled with values on request."""

    def __init__(self, language: str) -> None:
        self.language = language
        self._own, self._english = catalogue(language), catalogue("en")

    def __call__(self, key: str, **values: object) -> str:
        """A text. Raises KeyError for a key that no catalogue has."""
        text = self._own.get(key) or self._english[key]
        return text.format(**values) if values else text

    def kind(self, kind: str) -> str:
        """What a kind of part is called; a kind that no catalogue names keeps the word of the site file."""
        key = f"kind.{kind.replace(' ', '-')}"
        return self._own.get(key) or self._english.get(key) or kind
