"""Finds the rules in this folder, runs them, and reads their pages."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from os import listdir
from os.path import dirname, join
from types import ModuleType
from typing import TYPE_CHECKING

from ..evidence.finding import Finding
from ..evidence.views import Evidence

if TYPE_CHECKING:
    from ..season.view import SeasonView

FOLDER = dirname(__file__)


@dataclass(frozen=True, slots=True)
class Page:
    """A rule's page: its slug, its one sentence, its sections by title."""

    slug: str
    sentence: str
    sections: dict[str, str]
    text: str


@cache
def rule_names() -> tuple[str, ...]:
    """Slugs of all rules: every module here that has a page beside it."""
    return tuple(sorted(name[:-3].replace("_", "-") for name in listdir(FOLDER) if name.endswith(".md")))


def module_of(slug: str) -> ModuleType:
    """The module of a rule. Raises KeyError when there is none."""
    if slug not in rule_names():
        raise KeyError(slug)
    return import_module(f"{__package__}.{slug.replace('-', '_')}")


def asks(slug: str) -> str:
    """What a rule looks at: "site" (the evidence of a check), or "season" (a season that has been reckoned)."""
    return str(getattr(module_of(slug), "ASKS", "site"))


def run_rules(evidence: Evidence) -> Iterator[Finding]:
    """Every finding of every rule that looks at the site."""
    for slug in rule_names():
        if asks(slug) == "site":
            yield from module_of(slug).check(evidence)


def run_season_rules(season: "SeasonView") -> Iterator[Finding]:
    """Every finding of every rule that looks at a season; `check` alone does not run them."""
    for slug in rule_names():
        if asks(slug) == "season":
            yield from module_of(slug).check(season)


def page(slug: str) -> Page:
    """The page of a rule. Raises KeyError when there is none."""
    module = module_of(slug)
    with open(join(FOLDER, f"{slug.replace('-', '_')}.md"), encoding="utf-8") as sheet:
        text = sheet.read()
    sections: dict[str, str] = {}
    title = ""
    for line in text.splitlines():
        if line.startswith("## "):
            title = line[3:].strip()
            sections[title] = ""
        elif title:
            sections[title] += line + "\n"
    sentence = (module.__doc__ or "").strip().splitlines()[0]
    return Page(slug, sentence, {name: body.strip() for name, body in sections.items()}, text)


def example(slug: str, section: str) -> str:
    """The site file of a page's section "Fails" or "Passes". Raises KeyError or ValueError when it has none."""
    body = page(slug).sections[section]
    start = body.index("```yaml") + len("```yaml")
    return body[start : body.index("```", start)].strip() + "\n"
