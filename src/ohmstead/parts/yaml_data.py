"""Reads the part files: the plain half of YAML they are written in, many times faster than a full reader.

Understood: `key: value` lines, blocks by indentation, lists of blocks behind `- `, values in one line with
`[ ]` and `{ }`, "quoted text", numbers, `yes`, `no`, `~`, and comments. A test reads every part file with
a full YAML reader too and compares.
"""

import re
from functools import cache
from os import listdir
from os.path import dirname, join
from typing import Any

HERE = dirname(__file__)
_TOKENS = re.compile(r'"[^"]*"|[{}\[\],]|[^{}\[\],"]+')
_WORDS: dict[str, Any] = {"~": None, "yes": True, "no": False, "": None}
Line = tuple[int, str]


def _scalar(text: str) -> Any:
    """A number, a text, or one of the words with a meaning."""
    if text in _WORDS:
        return _WORDS[text]
    if text[0] == '"':
        return text[1:-1]
    if text[0] in "0123456789-.":
        try:
            return int(text)
        except ValueError:
            pass
        try:
            return float(text)
        except ValueError:
            pass
    return text


def _flow(text: str) -> Any:
    """A value that stands in one line."""
    if text[0] not in "[{":
        return _scalar(text)
    tokens = [token for token in map(str.strip, _TOKENS.findall(text)) if token]
    value, end = _nested(tokens, 0)
    if end != len(tokens):
        raise ValueError(f"{text!r} has something behind its closing bracket")
    return value


def _nested(tokens: list[str], at: int) -> tuple[Any, int]:
    """The list or mapping that opens at a token, and the token behind it."""
    closing = "]" if tokens[at] == "[" else "}"
    items: list[Any] = []
    table: dict[Any, Any] = {}
    at += 1
    while tokens[at] != closing:
        token = tokens[at]
        if token == ",":
            at += 1
        elif token in "[{":
            value, at = _nested(tokens, at)
            items.append(value)
        elif closing == "]":
            items.append(_scalar(token))
            at += 1
        else:
            key, colon, value = token.partition(":")
            if token[0] == '"' and not colon:  # a quoted key: its colon opens the next token
                key, value = token, tokens[at + 1].lstrip(":")
                at += 1
            value = value.strip()
            at += 1
            if value:
                table[_scalar(key)] = _scalar(value)
            else:
                opens = tokens[at] in "[{"
                table[_scalar(key)], at = _nested(tokens, at) if opens else (_scalar(tokens[at]), at + 1)
    return (items if closing == "]" else table), at + 1


def _block(lines: list[Line], at: int, indent: int) -> tuple[Any, int]:
    """The list or mapping whose lines stand at an indentation, and the line behind it."""
    if lines[at][1].startswith("- "):
        items = []
        while at < len(lines) and lines[at][0] == indent:
            lines[at] = (indent + 2, lines[at][1][2:])
            item, at = _block(lines, at, indent + 2)
            items.append(item)
        return items, at
    table: dict[Any, Any] = {}
    while at < len(lines) and lines[at][0] == indent:
        key, _, rest = lines[at][1].partition(":")
        rest, at = rest.strip(), at + 1
        if rest:
            table[_scalar(key)] = _flow(rest)
        elif at < len(lines) and lines[at][0] > indent:
            table[_scalar(key)], at = _block(lines, at, lines[at][0])
        else:
            table[_scalar(key)] = None
    return table, at


def parse(text: str) -> dict[str, Any]:
    """The content of a part file.

    >>> parse("title: a fuse\\nratings: [1, 2.5]  # steps\\nwindows:\\n  - points: {135: [0.75, ~]}")
    {'title': 'a fuse', 'ratings': [1, 2.5], 'windows': [{'points': {135: [0.75, None]}}]}
    """
    lines: list[Line] = []
    for line in text.splitlines():
        body = line.split(" #", 1)[0].rstrip()
        plain = body.lstrip()
        if plain and plain[0] != "#":
            lines.append((len(body) - len(plain), plain))
    table, end = _block(lines, 0, 0)
    if end != len(lines) or not isinstance(table, dict):
        raise ValueError(f"line {lines[end][1]!r} is indented unlike its neighbours")
    return table


def _read(folder: str, name: str) -> str:
    with open(join(HERE, folder, name + ".yaml"), encoding="utf-8") as file:
        return file.read()


@cache
def part_file(folder: str, name: str) -> dict[str, Any]:
    """One part file, read once. Do not change what you are given: it is shared."""
    return parse(_read(folder, name))


@cache
def part_names(folder: str) -> tuple[str, ...]:
    """All part files of a folder, sorted."""
    return tuple(sorted(file[:-5] for file in listdir(join(HERE, folder)) if file.endswith(".yaml")))


@cache
def part_words(folder: str) -> dict[str, tuple[str, ...]]:
    """The `words` line of every file of a folder, without reading the rest."""
    found: dict[str, tuple[str, ...]] = {}
    for name in part_names(folder):
        with open(join(HERE, folder, name + ".yaml"), encoding="utf-8") as file:
            line = next(line for line in file if line.startswith("words:"))
        found[name] = tuple(word.strip() for word in line.split("[", 1)[1].rsplit("]", 1)[0].split(","))
    return found
