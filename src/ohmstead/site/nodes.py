"""The site file as a tree: scalars with the raw text that the builder typed, mappings, lists."""

from .place import Place
from .problems import Refusal, refuse

LONGEST = 400  # characters of one value


class Source:
    """The file that nodes come from; `shift` characters of its text precede what was parsed."""

    __slots__ = ("file", "shift")

    def __init__(self, file: str, shift: int) -> None:
        self.file = file
        self.shift = shift


class Spot:
    """A point in the text, as the YAML reader counts: everything from 0."""

    __slots__ = ("column", "index", "line")

    def __init__(self, line: int, column: int, index: int) -> None:
        self.line = line
        self.column = column
        self.index = index


class Node:
    """Anything in the file, with the points where it begins and ends."""

    __slots__ = ("begin", "finish", "source")

    def __init__(self, source: Source, begin: Spot, finish: Spot) -> None:
        self.source = source
        self.begin = begin
        self.finish = finish

    @property
    def line(self) -> int:
        """Its line, counted from 1."""
        return self.begin.line + 1

    @property
    def start(self) -> int:
        """Index of its first character in the text."""
        return self.begin.index + self.source.shift

    @property
    def end(self) -> int:
        """Index behind its last character in the text."""
        return self.finish.index + self.source.shift

    @property
    def place(self) -> Place:
        """Where it stands."""
        begin, source = self.begin, self.source
        shift = source.shift
        return Place(source.file, begin.line + 1, begin.column + 1, begin.index + shift, self.finish.index + shift)


class Scalar(Node):
    """A piece of text. style: "plain", "quoted" or "block"."""

    __slots__ = ("style", "text")

    def __init__(self, source: Source, begin: Spot, finish: Spot, text: str) -> None:
        self.source = source
        self.begin = begin
        self.finish = finish
        self.text = text
        self.style = "plain"


class Mapping(Node):
    """Keys with their values, in order. style: "flow" for {a: 1}, "block" for lines."""

    __slots__ = ("entries", "style")
    entries: dict[str, tuple[Scalar, Node]]
    style: str


class Sequence(Node):
    """A list. style: "flow" for [a, b], "block" for lines that begin with a dash."""

    __slots__ = ("items", "style")
    items: list[Node]
    style: str


class Broken(Node):
    """A value that was already reported; reading it says nothing more."""

    __slots__ = ()


def broken(first: Node, last: Node) -> Broken:
    """A value that was reported already, from the beginning of one node to the end of another."""
    return Broken(first.source, first.begin, last.finish)


def is_empty(node: Node) -> bool:
    """Is nothing written here?"""
    return isinstance(node, Scalar) and node.style == "plain" and not node.text


def kind_of(node: Node) -> str:
    """What a node is, in the builder's words."""
    if isinstance(node, Mapping):
        return "a mapping {key: value}"
    if isinstance(node, Sequence):
        return "a list"
    return "nothing" if is_empty(node) else "plain text"


def text_of(node: Node, label: str, expected: str, example: str) -> str:
    """The text of a scalar; refuses mappings, lists and empty values."""
    if isinstance(node, Scalar):
        if node.text and len(node.text) <= LONGEST:
            return node.text
        if node.text:
            what = f"{label} is {len(node.text)} characters long"
            refuse(node.place, what, f"at most {LONGEST} characters", "shorten it, or look for a missing quote")
        refuse(node.place, f"{label} is empty", expected, f"write {_key(label)}: {example}")
    if isinstance(node, Broken):
        raise Refusal
    mend = f"write one value, such as {_key(label)}: {example}"
    refuse(node.place, f"{label} holds {kind_of(node)}", expected, mend)


def entries_of(node: Node, label: str, example: str) -> dict[str, tuple[Scalar, Node]]:
    """The entries of a mapping; refuses anything else."""
    if isinstance(node, Mapping):
        return node.entries
    if isinstance(node, Broken):
        raise Refusal
    refuse(node.place, f"{label} holds {kind_of(node)}", "a mapping of keys to values", f"write it as {example}")


def items_of(node: Node, label: str, example: str) -> list[Node]:
    """The items of a list; refuses anything else."""
    if isinstance(node, Sequence):
        return node.items
    if isinstance(node, Broken):
        raise Refusal
    refuse(node.place, f"{label} holds {kind_of(node)}", "a list", f"write it as {example}")


def _key(label: str) -> str:
    """The key to write, from the label of a value inside another: "draws, idle" -> "idle"."""
    return label.rpartition(", ")[2]
