"""Adds, changes and takes away entries of the site file; what the builder wrote elsewhere stays byte for byte."""

from collections.abc import Sequence as Steps
from functools import lru_cache

from .compose import compose
from .edit import EditRefused, replace_value
from .guess import quoted
from .nodes import Mapping, Node, Scalar, Sequence, is_empty
from .problems import SiteError

Step = str | int
STEP_SPACES = 2


def value_text(text: str, file: str, steps: Steps[Step]) -> str:
    """What the builder wrote at a key, as it stands in the file; empty where nothing stands.

    >>> value_text("site: {name: Fell cabin}", "a.yaml", ("site", "name"))
    'Fell cabin'
    """
    node = _find(_tree(text, file), steps)
    return "" if node is None else text[node.start : node.end].strip()


def plain_text(text: str, file: str, steps: Steps[Step]) -> str:
    """What stands at a key as one line, notes left out; blocks of lines in braces, a lone value without quotes.

    >>> plain_text("site:\\n  name: 'hut'\\n  latitude: 57.6  # measured\\n", "a.yaml", ("site",))
    '{name: hut, latitude: 57.6}'
    """
    node = _find(_tree(text, file), steps)
    return " ".join(node.text.split()) if isinstance(node, Scalar) else _flow(node)


def names_at(text: str, file: str, steps: Steps[Step]) -> tuple[str, ...]:
    """The keys that are written below a key, in order; none where nothing is.

    >>> names_at("zones: {hide: {air: 2..27 °C}, loft: {air: 0..40 °C}}", "a.yaml", ("zones",))
    ('hide', 'loft')
    """
    node = _find(_tree(text, file), steps)
    return tuple(node.entries) if isinstance(node, Mapping) else ()


def stretches(text: str, file: str, steps: Steps[Step]) -> dict[str, tuple[int, int]]:
    """Key -> where it stands with its value, from the first character to behind the last, below some key.

    >>> stretches("site: {name: hut, latitude: 57.6}", "a.yaml", ("site",))["latitude"]
    (18, 32)
    """
    node = _find(_tree(text, file), steps)
    if not isinstance(node, Mapping):
        return {}
    return {name: (key.start, max(key.end, _content_end(text, value))) for name, (key, value) in node.entries.items()}


def inside_braces(value: str) -> str:
    """A value as it is written between braces: in quotes where a sign in it would end it or mean something else.

    >>> inside_braces("RTU, old"), inside_braces("[ferrule, ring M8]")
    ("'RTU, old'", '[ferrule, ring M8]')
    """
    plain = not any(sign in value for sign in ",{}[]#") and ": " not in value and value[:1] not in "'\"&*!|>%@`-?:"
    negative = value[:1] == "-" and value[1:2].isdigit() and not any(sign in value for sign in ",{}[]#")
    return value if value[:1] in ("{", "[") or plain or negative else "'" + value.replace("'", "''") + "'"


def with_value(text: str, file: str, steps: Steps[Step], value: str) -> str:
    """The text with a value at a key, put in where it was not there. Raises EditRefused.

    >>> with_value("site: {name: hut}", "a.yaml", ("site", "latitude"), "57.6")
    'site: {name: hut, latitude: 57.6}'
    """
    tree = _tree(text, file)
    node = _find(tree, steps)
    if isinstance(node, Mapping | Sequence) and node.style == "block":
        return _checked(text, file, text[: node.start] + value.strip() + text[_content_end(text, node) :])
    if node is not None:
        return replace_value(text, node.place, value)
    home = _find(tree, steps[:-1])
    if not isinstance(home, Mapping):
        if len(steps) == 2 and home is None:
            return _checked(text, file, f"{_ended(text)}\n{steps[0]}:\n  {_entry(str(steps[1]), value)}\n")
        if len(steps) < 2 or home is not None and not is_empty(home):
            raise EditRefused(f"there is no place for {quoted(str(steps[-1]))} in the file")
        return with_value(text, file, steps[:-1], f"{{{_entry(str(steps[-1]), value)}}}")
    return _checked(text, file, _put_in(text, home, _entry(str(steps[-1]), value)))


def with_item(text: str, file: str, section: str, value: str) -> str:
    """The text with one more item at the end of a list. Raises EditRefused.

    >>> with_item("runs:\\n  - {from: a, to: b}\\n", "a.yaml", "runs", "{from: b, to: c}")
    'runs:\\n  - {from: a, to: b}\\n  - {from: b, to: c}\\n'
    """
    home = _find(_tree(text, file), (section,))
    if not isinstance(home, Sequence) or not home.items:
        return _checked(text, file, f"{_ended(text)}\n{section}:\n  - {value}\n")
    last = home.items[-1]
    if text[home.start] == "[":
        return _checked(text, file, f"{text[: last.end]}, {value}{text[last.end :]}")
    begin = text.rfind("-", 0, last.start)
    margin = text[text.rfind("\n", 0, begin) + 1 : begin]
    line_end = _line_end(text, _content_end(text, last))
    return _checked(text, file, f"{text[:line_end]}\n{margin}- {value}{text[line_end:]}")


def without(text: str, file: str, steps: Steps[Step]) -> str:
    """The text with a key and its value, or an item of a list, taken out. Raises EditRefused.

    >>> without("site: {name: hut, latitude: 57.6}", "a.yaml", ("site", "latitude"))
    'site: {name: hut}'
    """
    tree = _tree(text, file)
    node, home = _find(tree, steps), _find(tree, steps[:-1])
    if node is None or not isinstance(home, Mapping | Sequence):
        raise EditRefused(f"there is no {quoted(str(steps[-1]))} to take out")
    begin = home.entries[str(steps[-1])][0].start if isinstance(home, Mapping) else node.start
    if text[home.start] in "{[":
        return _checked(text, file, _cut_from_line(text, home, begin, node.end))
    line = text.rfind("\n", 0, begin) + 1
    end = _line_end(text, _content_end(text, node))
    return _checked(text, file, text[:line] + text[min(end + 1, len(text)) :])


@lru_cache(maxsize=4)
def _tree(text: str, file: str) -> Node:
    try:
        root, _ = compose(text, file)
    except SiteError as fault:
        raise EditRefused(f"the file cannot be edited before it is mended: {fault.problems[0].what}") from None
    if root is None:
        raise EditRefused("the file is empty")
    return root


def _find(node: Node | None, steps: Steps[Step]) -> Node | None:
    for step in steps:
        if isinstance(node, Mapping) and step in node.entries:
            node = node.entries[str(step)][1]
        elif isinstance(node, Sequence) and isinstance(step, int) and 0 <= step < len(node.items):
            node = node.items[step]
        else:
            return None
    return node


def _flow(node: Node | None) -> str:
    """A node as it is written in braces, on one line."""
    if isinstance(node, Mapping):
        return (
            "{" + ", ".join(f"{inside_braces(name)}: {_flow(value)}" for name, (_, value) in node.entries.items()) + "}"
        )
    if isinstance(node, Sequence):
        return "[" + ", ".join(_flow(item) for item in node.items) + "]"
    if not isinstance(node, Scalar):
        return ""
    line = " ".join(node.text.split())
    quoted_anyway = node.style != "plain" and line[:1] in ("", "{", "[")
    return inside_braces(line) if not quoted_anyway else "'" + line.replace("'", "''") + "'"


def _entry(name: str, value: str) -> str:
    plain = all(sign.isalnum() or sign in " _-./" for sign in name) and name == name.strip()
    return f"{name if plain else repr(name)}: {value.strip()}"


def _put_in(text: str, home: Mapping, entry: str) -> str:
    if text[home.start] == "{":
        close = text.rfind("}", home.start, home.end)
        before = text[:close].rstrip()
        comma = "" if not home.entries or before.endswith(",") else ","
        return f"{before}{comma} {entry}{text[close:]}"
    key, last = list(home.entries.values())[-1]
    margin = text[text.rfind("\n", 0, key.start) + 1 : key.start]
    end = _line_end(text, _content_end(text, last))
    return f"{text[:end]}\n{margin}{entry}{text[end:]}"


def _cut_from_line(text: str, home: Node, begin: int, end: int) -> str:
    """Out of a list in braces, with the comma that joined it."""
    rest = text[end : home.end]
    after = len(rest) - len(rest.lstrip())
    if rest[after : after + 1] == ",":
        tail = rest[after + 1 :]
        return text[:begin] + tail.lstrip(" ") + text[home.end :]
    before = text[:begin].rstrip()
    return before.removesuffix(",") + text[end:]


def _content_end(text: str, node: Node) -> int:
    """Behind the last character that is content: a block in lines ends where the next thing begins."""
    if isinstance(node, Mapping) and node.style == "block" and node.entries:
        key, value = list(node.entries.values())[-1]
        return max(key.end + 1, _content_end(text, value))
    if isinstance(node, Sequence) and node.style == "block" and node.items:
        return _content_end(text, node.items[-1])
    return node.start + len(text[node.start : node.end].rstrip())


def _line_end(text: str, index: int) -> int:
    found = text.find("\n", index)
    return len(text) if found < 0 else found


def _ended(text: str) -> str:
    return text if text.endswith("\n") else f"{text}\n"


def _checked(before: str, file: str, after: str) -> str:
    """The new text, if it is still a tree and the old one was."""
    try:
        root, problems = compose(after, file)
    except SiteError as fault:
        raise EditRefused(f"this cannot be written there: {fault.problems[0].what}") from None
    if root is None or problems:
        raise EditRefused("this cannot be written there without changing what stands around it")
    return after
