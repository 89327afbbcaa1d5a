"""A part that no source reaches stays dead, and nothing else about it can be judged."""

from collections.abc import Iterator

from ..evidence.banks import listed
from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Rule, Subject
from ..evidence.views import DeviceView, Evidence

RULE = Rule("part-without-source", Source("common-practice", "current needs a closed path to a source"))
WORDS = Words(
    "no battery, converter or charger reaches {subject}{also}",
    "add the run that brings power to {subject}, or see whether `from` and `to` name the parts that are meant",
)
ONE_WIRE = Words(
    "only the {wire} wire reaches {subject}: no current can flow",
    "add the run with its {other} wire, or leave `wires` out where a run holds both",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    unfed = {part.name: part for part in evidence.unfed}
    links = _links(evidence)
    switched_off = {view.name for view in evidence.switches if view.part.set_to == "open"}
    told: set[str] = set()
    for name in unfed:
        if name in told:
            continue
        island = _island(name, links, set(unfed))
        told |= island
        # What lies behind a switch that stands open is dead on purpose.
        if any(other in switched_off for part in island for other in links.get(part, ())):
            continue
        head = _head(evidence, [part for part in unfed if part in island])
        others = [part for part in unfed if part in island and part != head]
        also = f", nor {listed(others)} behind it" if others else ""
        yield RULE.find(Severity.FAILS, Subject(head, unfed[head].place), WORDS, texts={"also": also})
    for view in evidence.devices:
        if view.name not in unfed:
            yield from _one_wire(evidence, view)


def _one_wire(evidence: Evidence, view: DeviceView) -> Iterator[Finding]:
    held = {run.run.wires for run in evidence.runs if view.name in (run.run.start.part, run.run.end.part)}
    if len(held) == 1 and "both" not in held:
        wire = held.pop()
        other = "negative" if wire == "positive" else "positive"
        texts = {"wire": wire, "other": other}
        yield RULE.find(Severity.FAILS, Subject(view.name, view.place), ONE_WIRE, texts=texts)


def _links(evidence: Evidence) -> dict[str, set[str]]:
    """Which parts runs join."""
    links: dict[str, set[str]] = {}
    for view in evidence.runs:
        start, end = view.run.start.part, view.run.end.part
        links.setdefault(start, set()).add(end)
        links.setdefault(end, set()).add(start)
    return links


def _island(start: str, links: dict[str, set[str]], within: set[str]) -> set[str]:
    """The unfed parts that hang together with one of them."""
    seen, queue = {start}, [start]
    while queue:
        for other in links.get(queue.pop(), set()) & within - seen:
            seen.add(other)
            queue.append(other)
    return seen


def _head(evidence: Evidence, island: list[str]) -> str:
    """The part that the others hang on: runs leave it and none arrives."""
    arrived = {view.run.end.part for view in evidence.runs if view.run.start.part in island}
    return next((name for name in island if name not in arrived), island[0])
