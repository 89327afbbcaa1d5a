"""From text to nodes, safely: no aliases, no tags, no deep nesting, no key twice.

The events of the YAML reader are taken one by one, so that a hostile file is left at once and every
scalar keeps the text that was typed (`off`, `12:30` and `010` mean what they say).
"""

import re
from typing import Any

import yaml

from .guess import quoted
from .nodes import Broken, Mapping, Node, Scalar, Sequence, Source
from .pairs import paired
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
_UNWANTED = "[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]"


def compose(text: str, file: str) -> tuple[Node | None, list[Problem]]:
    """The tree of a file (None when nothing is written) and the problems that leave the tree usable.

    Raises SiteError when the tree cannot be used.
    """
    check_text(text, file)
    shift = 1 if text.startswith("\ufeff") else 0
    tree = _Tree(text, Source(file, shift))
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

    def __init__(self, text: str, source: Source) -> None:
        self.text = text
        self.source = source
        self.problems: list[Problem] = []
        self.hazards: list[Problem] = []
        self.stack: list[Mapping | Sequence] = []
        self.levels: list[list[Node]] = [[]]  # the nodes so far of the file and of each open container
        self.documents = 0

    @property
    def root(self) -> Node | None:
        """The whole file; None when nothing is written."""
        return self.levels[0][0] if self.levels[0] else None

    def fill(self, get_event: Any) -> None:
        """Takes every event until the end of the file. Plain text, which is most of it, takes the short way."""
        scalar, source, inner = yaml.ScalarEvent, self.source, self.levels[0]
        while True:
            event = get_event()
            kind = event.__class__
            if kind is scalar:
                text = event.value
                node = Scalar(source, event.start_mark, event.end_mark, text)
                inner.append(node)
                if event.style or event.anchor is not None or event.tag is not None:
                    self._check_scalar(event, node)
                elif not text.isascii():
                    node.text = text.translate(SPACES).strip()
            elif kind is yaml.MappingEndEvent or kind is yaml.SequenceEndEvent:
                inner = self._close(event)
            elif kind is yaml.MappingStartEvent or kind is yaml.SequenceStartEvent:
                inner = self._open(event, inner)
            elif kind is yaml.AliasEvent:
                self._hazard(
                    event,
                    "an alias (*) is not read here",
                    "every value written where it belongs",
                    "write the value again; put text that begins with * in quotes",
                )
                inner.append(Broken(source, event.start_mark, event.end_mark))
            elif kind is yaml.DocumentStartEvent:
                self._document(event)
            elif kind is yaml.StreamEndEvent:
                return

    def _check_scalar(self, event: Any, node: Scalar) -> None:
        """Text in quotes or blocks, and text with an anchor or a tag."""
        if event.style:
            node.style = "quoted" if event.style in "'\"" else "block"
        node.text = event.value.translate(SPACES).strip()
        if event.anchor is not None or event.tag is not None:
            self._adorned(event)
        if event.style == '"' and re.search(_UNWANTED, event.value):
            self._hazard(
                event,
                "this quoted text holds a control character",
                "visible characters only",
                "remove the escape",
            )

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
        return (self.text[event.start_mark.index + self.source.shift :].split(maxsplit=1) or [""])[0]

    def _hazard(self, event: Any, what: str, expected: str, mend: str) -> None:
        self._hazard_at(Node(self.source, event.start_mark, event.end_mark), what, expected, mend)

    def _hazard_at(self, node: Node, what: str, expected: str, mend: str) -> None:
        place = node.place
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

    def _open(self, event: Any, around: list[Node]) -> list[Node]:
        """A mapping or a list begins; the answer is where its nodes go."""
        if event.anchor is not None or event.tag is not None:
            self._adorned(event)
        if self.stack and self.stack[-1].__class__ is Mapping and len(around) % 2 == 0:
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
        cls = Mapping if event.__class__ is yaml.MappingStartEvent else Sequence
        node = cls(self.source, event.start_mark, event.end_mark)
        node.style = "flow" if event.flow_style else "block"
        around.append(node)
        self.stack.append(node)
        inner: list[Node] = []
        self.levels.append(inner)
        return inner

    def _close(self, event: Any) -> list[Node]:
        """A mapping or a list ends; the answer is where the nodes of what lies around it go."""
        node, inner = self.stack.pop(), self.levels.pop()
        node.finish = event.end_mark if node.style == "flow" or not inner else inner[-1].finish
        if isinstance(node, Sequence):
            node.items = inner
            return self.levels[-1]
        node.entries, problems = paired(inner[::2], inner[1::2], node.style, self.text)
        if "<<" in node.entries:
            self._hazard_at(
                node.entries["<<"][0],
                "a merge key (<<) is not read here",
                "every value written where it belongs",
                "write the values out",
            )
        if problems:
            self.problems += problems
            if len(self.problems) >= MOST_PROBLEMS:
                raise SiteError(self.problems, self.text)
        return self.levels[-1]
