"""From text to nodes, safely: no aliases, no tags, no deep nesting, no key twice.

The events of the YAML reader are taken one by one, so that a hostile file is left at once and every
scalar keeps the text that was typed (`off`, `12:30` and `010` mean what they say).
"""

import re
from typing import Any

import yaml

from .guess import quoted
from .nodes import Broken, Mapping, Node, Scalar, Sequence
from .pairs import paired
from .place import place_at
from .problems import MOST_PROBLEMS, Problem, SiteError
from .source import check_text
from .syntax import explain

try:
    from yaml import CSafeLoader as Loader
except ImportError:  # PyYAML without its compiled part: the same, only slower
    from yaml import SafeLoader as Loader  # type: ignore[assignment]

DEEPEST = 20
_MOST_ALIKE = 3  # dangers of one kind that are told; they have one cause
SPACES = str.maketrans(dict.fromkeys("\xa0\u2007\u2009\u200a\u202f", " "))
_STYLES = {None: "plain", "": "plain", "'": "quoted", '"': "quoted", "|": "block", ">": "block"}
_UNWANTED = "[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]"


def compose(text: str, file: str) -> tuple[Node | None, list[Problem]]:
    """The tree of a file (None when nothing is written) and the problems that leave the tree usable.

    Raises SiteError when the tree cannot be used.
    """
    check_text(text, file)
    shift = 1 if text.startswith("\ufeff") else 0
    tree = _Tree(text, file, shift)
    loader = Loader(text[shift:])
    try:
        tree.fill(loader.get_event)
    except yaml.YAMLError as fault:
        raise SiteError([*tree.problems, explain(fault, text, file, shift)], text) from None
    except ValueError as fault:  # an escape in quoted text that stands for no character
        raise SiteError([*tree.problems, explain(fault, text, file, shift)], text) from None
    finally:
        loader.dispose()
    if tree.hazards:
        raise SiteError(tree.hazards, text)
    return tree.root, tree.problems


class _Tree:
    """Grows the tree event by event."""

    def __init__(self, text: str, file: str, shift: int) -> None:
        self.text = text
        self.file = file
        self.shift = shift
        self.root: Node | None = None
        self.problems: list[Problem] = []
        self.hazards: list[Problem] = []
        self.stack: list[Mapping | Sequence] = []
        self.pairs: list[list[Node]] = []  # for each open container: its nodes so far
        self.documents = 0

    def fill(self, get_event: Any) -> None:
        """Takes every event until the end of the file."""
        scalar, end = yaml.ScalarEvent, (yaml.MappingEndEvent, yaml.SequenceEndEvent)
        start = (yaml.MappingStartEvent, yaml.SequenceStartEvent)
        while True:
            event = get_event()
            kind = event.__class__
            if kind is scalar:
                self._add(self._scalar(event))
            elif kind in end:
                self._close(event)
            elif kind in start:
                self._open(event)
            elif kind is yaml.AliasEvent:
                self._hazard(
                    event,
                    "an alias (*) is not read here",
                    "every value written where it belongs",
                    "write the value again; put text that begins with * in quotes",
                )
                self._add(self._node(Broken, event))
            elif kind is yaml.DocumentStartEvent:
                self._document(event)
            elif kind is yaml.StreamEndEvent:
                return

    def _node(self, cls: Any, event: Any) -> Any:
        mark = event.start_mark
        return cls(
            self.file,
            mark.line + 1,
            mark.column + 1,
            mark.index + self.shift,
            event.end_mark.index + self.shift,
        )

    def _scalar(self, event: Any) -> Scalar:
        mark = event.start_mark
        node = Scalar(self.file, mark.line + 1, mark.column + 1, mark.index + self.shift,
                      event.end_mark.index + self.shift)  # fmt: skip
        text = event.value
        if not text.isascii():
            text = text.translate(SPACES)
        node.style = _STYLES.get(event.style, "quoted")
        node.text = text.strip()
        if event.anchor is not None or event.tag is not None:
            self._adorned(event)
        if text == "<<":
            self._hazard(
                event,
                "a merge key (<<) is not read here",
                "every value written where it belongs",
                "write the values out",
            )
        if event.style == '"' and re.search(_UNWANTED, text):
            self._hazard(
                event,
                "this quoted text holds a control character",
                "visible characters only",
                "remove the escape",
            )
        return node

    def _adorned(self, event: Any) -> None:
        if event.anchor is not None:
            self._hazard(
                event,
                f"an anchor (&{event.anchor}) is not read here",
                "every value written where it belongs",
                "remove it and write repeated values out; put text that begins with & in quotes",
            )
        else:
            self._hazard(
                event,
                f"a tag ({quoted(self._first_word(event))}) is not read here",
                "plain values",
                "remove it; put text that begins with ! in quotes",
            )

    def _first_word(self, event: Any) -> str:
        return (self.text[event.start_mark.index + self.shift :].split(maxsplit=1) or [""])[0]

    def _hazard(self, event: Any, what: str, expected: str, mend: str) -> None:
        mark = event.start_mark
        place = place_at(self.text, mark.index + self.shift, event.end_mark.index + self.shift, self.file)
        if sum(told.mend == mend for told in self.hazards) < _MOST_ALIKE:
            self.hazards.append(Problem(place, what, expected, mend))

    def _document(self, event: Any) -> None:
        self.documents += 1
        if self.documents > 1:
            self._hazard(
                event,
                "a second document begins here",
                "one site in one file",
                "remove the line '---', or move what follows to a file of its own",
            )
            raise SiteError([*self.problems, *self.hazards], self.text)

    def _add(self, node: Node) -> None:
        if self.pairs:
            self.pairs[-1].append(node)
        else:
            self.root = node

    def _open(self, event: Any) -> None:
        """A mapping or a list begins."""
        if event.anchor is not None or event.tag is not None:
            self._adorned(event)
        is_mapping = event.__class__ is yaml.MappingStartEvent
        if self.stack and isinstance(self.stack[-1], Mapping) and len(self.pairs[-1]) % 2 == 0:
            self._hazard(
                event,
                "a list or a mapping stands where a key should be",
                "plain text before each colon",
                "put text with braces or brackets in quotes",
            )
            raise SiteError(self.hazards, self.text)
        if len(self.stack) >= DEEPEST:
            self._hazard(
                event,
                f"things are nested deeper than {DEEPEST} levels",
                "at most a few levels",
                "look for a bracket too many",
            )
            raise SiteError(self.hazards, self.text)
        node = self._node(Mapping if is_mapping else Sequence, event)
        node.style = "flow" if event.flow_style else "block"
        self._add(node)
        self.stack.append(node)
        self.pairs.append([])

    def _close(self, event: Any) -> None:
        """A mapping or a list ends."""
        node, inner = self.stack.pop(), self.pairs.pop()
        node.end = event.end_mark.index + self.shift if node.style == "flow" or not inner else inner[-1].end
        if isinstance(node, Sequence):
            node.items = inner
            return
        node.entries, problems = paired(inner[::2], inner[1::2], node.style, self.text)
        if problems:
            self.problems += problems
            if len(self.problems) >= MOST_PROBLEMS:
                raise SiteError(self.problems, self.text)
