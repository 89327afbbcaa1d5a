"""Writes a value back into the site file: its own characters change, every other byte stays."""

import os
from collections.abc import Iterator

from .compose import SPACES, compose
from .guess import quoted
from .nodes import Mapping, Node, Scalar, Sequence
from .place import Place
from .problems import SiteError


class EditRefused(Exception):
    """A value that cannot be written; nothing was changed. The message says why."""


class EditConflict(EditRefused):
    """The file is no longer the one that was read; `on_disk` is what it holds now, None when it is gone."""

    def __init__(self, message: str, on_disk: str | None) -> None:
        super().__init__(message)
        self.on_disk = on_disk


def replace_value(site_text: str, place: Place, new_text: str) -> str:
    """The text of the file with another value at a place; quotes are added where the value needs them.

    A value that begins with a brace or a bracket is written as YAML, any other as text. Raises
    EditRefused when the place holds no value of this text, or when anything else would change.

    >>> text = "wire: choose   # ours"
    >>> replace_value(text, Place("", 1, 7, 6, 12), "2.5 mm2")
    'wire: 2.5 mm2   # ours'
    """
    value = new_text.strip()
    if not value or "\n" in value or "\r" in value:
        raise EditRefused("a value is one line of text")
    before = _tree(site_text, place.file, "the file cannot be edited before it is mended")
    if not any((node.start, node.end) == (place.start, place.end) for node in _values(before)):
        raise EditRefused(f"line {place.line} holds no value at column {place.column}; read the file again")
    gap = " " if place.start == place.end and not site_text[: place.start].endswith(" ") else ""
    written = [value] if value[0] in "{[" else [value, "'" + value.replace("'", "''") + "'"]
    for candidate in written:
        text = site_text[: place.start] + gap + candidate + site_text[place.end :]
        stretch = (place.start + len(gap), place.start + len(gap) + len(candidate))
        if _fits(text, before, (place.start, place.end), stretch, value):
            return text
    raise EditRefused(f"{quoted(value)} cannot be written in line {place.line} without changing what stands around it")


def _tree(text: str, file: str, otherwise: str) -> Node:
    try:
        root, _ = compose(text, file)
    except SiteError as fault:
        raise EditRefused(f"{otherwise}: {fault.problems[0].what}") from None
    if root is None:
        raise EditRefused("the file is empty")
    return root


def _values(node: Node) -> Iterator[Node]:
    """Every value below a node, itself included, keys not."""
    yield node
    if isinstance(node, Mapping):
        for _, value in node.entries.values():
            yield from _values(value)
    elif isinstance(node, Sequence):
        for item in node.items:
            yield from _values(item)


def _fits(text: str, before: Node, old: tuple[int, int], new: tuple[int, int], value: str) -> bool:
    """Does the new text hold the value at its place, and all else as it was?"""
    try:
        after, problems = compose(text, before.source.file)
    except SiteError:
        return False
    if after is None or problems:
        return False
    found = next((node for node in _values(after) if (node.start, node.end) == new), None)
    if isinstance(found, Scalar) and found.text != value.translate(SPACES):
        return False
    return found is not None and _shape(before, old) == _shape(after, new)


def _shape(node: Node, apart: tuple[int, int]) -> object:
    """The content of a tree, with the node at one stretch left out."""
    if (node.start, node.end) == apart:
        return "here"
    if isinstance(node, Mapping):
        return [(key, _shape(value, apart)) for key, (_, value) in node.entries.items()]
    if isinstance(node, Sequence):
        return [_shape(item, apart) for item in node.items]
    return (node.text, node.style) if isinstance(node, Scalar) else None


def save(path: str | os.PathLike[str], old_text: str, new_text: str) -> None:
    """Put a new text in the place of the one that was read, whole or not at all.

    Raises EditConflict when the file no longer holds `old_text`, EditRefused when it cannot be written.
    The file's kind of line ends is kept for new lines.
    """
    target = os.path.realpath(path)
    try:
        data = _with_line_ends_of(old_text, new_text).encode("utf-8")
    except UnicodeEncodeError as fault:
        raise EditRefused(f"the new text cannot be written as UTF-8: {fault.reason}") from None
    _check_unchanged(target, old_text)
    try:
        _swap(target, data, old_text)
    except OSError as fault:
        raise EditRefused(f"{os.fspath(path)} cannot be written: {fault.strerror or fault}") from None


def _with_line_ends_of(old_text: str, new_text: str) -> str:
    if "\r\n" in old_text and "\n" not in old_text.replace("\r\n", ""):
        return new_text.replace("\r\n", "\n").replace("\n", "\r\n")
    return new_text


def _check_unchanged(target: str, old_text: str) -> None:
    try:
        with open(target, "rb") as stream:
            data = stream.read()
    except FileNotFoundError:
        raise EditConflict("the file is gone", None) from None
    except OSError as fault:
        raise EditRefused(f"the file cannot be read: {fault.strerror or fault}") from None
    if data != old_text.encode("utf-8"):
        raise EditConflict("the file was changed by somebody else since it was read", data.decode("utf-8", "replace"))


def _swap(target: str, data: bytes, old_text: str) -> None:
    """Write beside the file, look at it once more, then take its place in one step."""
    from tempfile import mkstemp

    handle, beside = mkstemp(prefix=".", suffix=".part", dir=os.path.dirname(target))
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(beside, os.stat(target).st_mode & 0o7777)
        _check_unchanged(target, old_text)
        os.replace(beside, target)
    except BaseException:
        os.unlink(beside)
        raise
