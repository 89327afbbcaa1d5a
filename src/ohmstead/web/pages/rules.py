"""The rules, as they come with the package: what each looks for, why, how to mend it, what it cannot see."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from ...rules.catalogue import module_of, rule_names
from ...rules.catalogue import page as rule_page
from ...tables.sources import source
from ..answers import guarded, page
from ..prose import blocks
from ..shelf import NotHere


@guarded
def rules(request: Request) -> Response:
    """All of them, a sentence each."""
    found = [(slug, rule_page(slug).sentence) for slug in rule_names()]
    return page(request, "rules.html", rules=found)


@guarded
def rule(request: Request) -> Response:
    """One rule with its page and its two small sites."""
    slug = request.path_params["slug"]
    if slug not in rule_names():
        raise NotHere(slug)
    found, names = rule_page(slug), set(rule_names())

    def linked(word: str) -> str:
        name = word.removesuffix(".md")
        return f"/rules/{name}" if name in names and name != slug else ""

    sections = [(title, blocks(body, linked)) for title, body in found.sections.items()]
    declared = module_of(slug).RULE.source
    origin = f"{source(declared.key)}, {declared.place}" if declared.place else str(source(declared.key))
    return page(request, "rule.html", slug=slug, sentence=found.sentence, sections=sections, origin=origin)


ROUTES = (
    Route("/rules", rules, name="rules"),
    Route("/rules/{slug}", rule, name="rule"),
)
