"""A thing of the site while it is being read: its values so far, their origins, and what went wrong."""

from collections.abc import Iterable
from collections.abc import Mapping as Map
from typing import Any

from .declare import Field
from .examples import example
from .guess import listed, nearest, quoted
from .kinds import KINDS
from .model import About, Battery, Run, Zone
from .nodes import Broken, Node, Scalar, Sequence, broken, entries_of, is_empty
from .place import Origin, Place
from .plans import plan, required, unwritten_origins
from .problems import MOST_PROBLEMS, Problem, Refusal, SiteError

CHOOSE = "choose"
PLAN = "plan"


class Draft:
    """One thing: `values` holds the attributes that were read, `nodes` where each of them stands."""

    __slots__ = ("cls", "label", "name", "node", "nodes", "origin", "place", "values")

    def __init__(self, cls: type, name: str, label: str, place: Place, node: Node) -> None:
        self.cls = cls
        self.name = name
        self.label = label
        self.place = place
        self.node = node
        self.values: dict[str, Any] = {}
        self.nodes: dict[str, Node] = {}
        self.origin: dict[str, Origin] = {}

    def value(self, attribute: str) -> Any:
        """What was written for an attribute; None when nothing was, or it could not be read."""
        return self.values.get(attribute)

    def place_of(self, attribute: str) -> Place:
        """Where an attribute is written, or else where the thing begins."""
        node = self.nodes.get(attribute)
        return node.place if node is not None else self.place

    def built(self, fixed: Map[str, Any]) -> Any:
        """The finished object of the model."""
        return self.cls(**fixed, **self.values, place=self.place, origin=self.origin)


class Reading:
    """The pass over one file: gathers the problems."""

    def __init__(self, file: str, text: str, problems: Iterable[Problem]) -> None:
        self.file = file
        self.text = text
        self.problems = list(problems)

    def tell(self, place: Place, what: str, expected: str, mend: str) -> None:
        """One more problem; stops when there are too many to be of use."""
        self.add(Problem(place, what, expected, mend))

    def add(self, *problems: Problem) -> None:
        """Problems found by a reader; stops when there are too many to be of use."""
        self.problems += problems
        if len(self.problems) >= MOST_PROBLEMS:
            raise SiteError(self.problems[:MOST_PROBLEMS], self.text)

    def end(self) -> None:
        """Raises everything gathered, if anything was."""
        if self.problems:
            raise SiteError(self.problems, self.text)

    def draft(self, draft: Draft, written: str, apart: tuple[str, ...] = ()) -> Draft:
        """Fills a draft from its mapping; `apart` are keys that somebody else reads."""
        try:
            entries = entries_of(draft.node, draft.label, written)
        except Refusal as refusal:
            self.add(*refusal.problems)
            return draft
        keys = plan(draft.cls)
        draft.origin.update(unwritten_origins(draft.cls))
        for name, (key, node) in entries.items():
            entry = keys.get(name)
            if entry is None:
                if name not in apart:
                    meant = self._unknown(draft, name, key, node)
                    if meant:  # counts as written, so that one slip is told once
                        draft.nodes.setdefault(keys[meant].attribute, broken(key, key))
                continue
            draft.nodes[entry.attribute] = node
            if node.__class__ is Scalar and node.text == CHOOSE and entry.field.form != "text":
                self._choose(draft, entry.attribute, name, node)
                continue
            if node.__class__ is Scalar and entry.field.derived and node.text == entry.field.derived:
                draft.origin[entry.attribute] = Origin(PLAN, "", node.place)
                continue
            try:
                draft.values[entry.attribute] = entry.read(node, name, entry.field)
                draft.origin[entry.attribute] = Origin(_stated_or_open(node, entry.field), "", node.place)
            except Refusal as refusal:
                self.add(*refusal.problems)
        for entry in required(draft.cls):
            field = entry.field
            if entry.attribute not in draft.nodes:
                self.tell(
                    draft.place,
                    f"{draft.label} has no {field.key}: {field.why}",
                    f"{field.key}: {field.doc}",
                    f"add {field.key}: {example(field)}",
                )
        return draft

    def _choose(self, draft: Draft, attribute: str, name: str, node: Node) -> None:
        if plan(draft.cls)[name].field.choosable:
            draft.values[attribute] = plan(draft.cls)[name].field.open
            draft.origin[attribute] = Origin("choose", "", node.place)
            return
        can = [entry.field.key for entry in plan(draft.cls).values() if entry.field.choosable]
        self.tell(
            node.place,
            f"{name} cannot be left open with 'choose'",
            plan(draft.cls)[name].field.doc,
            f"state it; here only {listed(can)} can be left open" if can else "state it, or leave the key out",
        )

    def _unknown(self, draft: Draft, name: str, key: Scalar, node: Node) -> str:
        """Tells of a key that does not exist; the answer is the key that was meant, if one was."""
        known = tuple(plan(draft.cls))
        if isinstance(node, Broken):
            return nearest(name, known)
        what = f"{quoted(name)} is not a key of {draft.label}" if name else f"a key of {draft.label} is empty"
        mend = "leave it out, or use one of the keys above"
        meant = nearest(name, known)
        begins = next((k for k in sorted(known, key=len, reverse=True) if name.startswith(k + " ")), "")
        if begins and is_empty(node):
            what = f"{quoted(name)} has no colon"
            mend = f"write {begins}: {name[len(begins) + 1 :]}"
            meant = begins
        elif meant:
            mend = f"did you mean '{meant}'?"
        elif owner := _owner(name):
            mend = f"it is a key of {owner}; here leave it out"
        self.tell(key.place, what, f"one of: {listed(known)}", mend)
        return meant


def _stated_or_open(node: Node, field: Field) -> str:
    """How a value came to be known: a list counts as left open when any of its items is."""
    items = node.items if isinstance(node, Sequence) and field.choosable else ()
    return CHOOSE if any(isinstance(item, Scalar) and item.text == CHOOSE for item in items) else "stated"


def _owner(name: str) -> str:
    """What has this key, when another thing of the site does."""
    owners: dict[str, type] = {"section site": About, "a zone": Zone, "a battery": Battery, "a run": Run}
    from .boxes import Cabinet, CabinetFan, CabinetFilter
    from .plates import Mount, Plate
    from .sky import Array, Obstacle, Weather

    owners |= {"section weather": Weather, "an array": Array, "an obstacle": Obstacle}
    owners |= {"a cabinet": Cabinet, "the fan of a cabinet": CabinetFan, "the filter of a cabinet": CabinetFilter}
    owners |= {"section plate": Plate, "a part of section plate": Mount}
    owners |= {f"kind {kind}": cls for kind, cls in KINDS.items()}
    return next((owner for owner, cls in owners.items() if name in plan(cls)), "")


def section(reading: Reading, node: Node | None, label: str, example: str) -> dict[str, tuple[Scalar, Node]]:
    """The entries of a section; an empty section has none."""
    if node is None or is_empty(node):
        return {}
    try:
        return entries_of(node, f"section {label}", example)
    except Refusal as refusal:
        reading.add(*refusal.problems)
        return {}
