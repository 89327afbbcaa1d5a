"""From a file to text that is safe to take apart: size, encoding, stray characters."""

import os

from .place import Place, place_at
from .problems import Problem, SiteError

LARGEST = 5_000_000  # bytes; a site of a thousand parts has 200,000
_INVISIBLE = {
    "\xad": "a soft hyphen",
    "\u200b": "a zero-width space",
    "\u2060": "a word joiner",
    "\ufeff": "a byte-order mark in the middle of the file",
    "\x85": "a next-line mark",
    "\u2028": "a line separator",
    "\u2029": "a paragraph separator",
    "\0": "a NUL character",
}

_STEERING = frozenset(map(chr, (*range(0x2061, 0x2065), *range(0x202A, 0x202F), *range(0x2066, 0x206A))))


def load(path: str | os.PathLike[str]) -> str:
    """The text of a site file, with its line ends as they are. Raises SiteError."""
    name = os.fspath(path)
    try:
        with open(path, "rb") as stream:
            data = stream.read(LARGEST + 1)
    except FileNotFoundError:
        raise _whole(
            name, "there is no such file", "the path of a site file", "check the spelling of the path"
        ) from None
    except IsADirectoryError:
        raise _whole(name, "this is a folder", "the path of a site file", "name the file inside it") from None
    except PermissionError:
        raise _whole(
            name,
            "this file may not be read",
            "a file that you may read",
            "change its permissions, or copy it",
        ) from None
    except (OSError, ValueError) as fault:
        reason = getattr(fault, "strerror", None) or str(fault)
        raise _whole(
            name,
            f"this file cannot be read: {reason}",
            "the path of a site file",
            "check the path and the disk",
        ) from None
    if len(data) > LARGEST:
        raise too_large(name)
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as fault:
        raise _not_utf8(data, fault.start, name) from None


def check_text(text: str, name: str) -> None:
    """Refuses text that is too long, empty, or holds characters nobody can see. Raises SiteError."""
    if len(text) > LARGEST:
        raise too_large(name)
    begin = 1 if text.startswith("\ufeff") else 0
    unwanted = [sign for sign in set(text[begin:]) if _is_unwanted(sign)]
    if unwanted:
        raise _unwanted(text, min(text.index(sign, begin) for sign in unwanted), name)


def _is_unwanted(sign: str) -> bool:
    """Control characters, halves of characters, and what stands in a text without being seen."""
    code = ord(sign)
    if code < 0xA0:
        return code < 0x20 and sign not in "\t\n\r" or code >= 0x7F
    return sign in _INVISIBLE or 0xD800 <= code < 0xE000 or code & 0xFFFE == 0xFFFE or sign in _STEERING


def _whole(name: str, what: str, expected: str, mend: str) -> SiteError:
    return SiteError([Problem(Place(name, 0, 0, 0, 0), what, expected, mend)])


def too_large(name: str) -> SiteError:
    """The refusal of a file over the limit."""
    return _whole(
        name,
        "this file is larger than 5 MB",
        "a site file of at most 5 MB, and usually a few kB",
        "check that this is a site file, or split the site",
    )


def _unwanted(text: str, index: int, name: str) -> SiteError:
    sign = text[index]
    what = _INVISIBLE.get(sign, "a control character" if ord(sign) < 0xA0 else "an invisible character")
    place = place_at(text, index, index + 1, name)
    mend = "delete it, or type the line again; it often comes from copied text"
    if sign == "\0":
        mend = "save the file as plain UTF-8 text; many NUL characters mean UTF-16 or a binary file"
    return SiteError(
        [
            Problem(
                place,
                f"{what} (U+{ord(sign):04X}) stands at column {place.column}",
                "visible characters, spaces and line ends only",
                mend,
            )
        ],
        text,
    )


def _not_utf8(data: bytes, index: int, name: str) -> SiteError:
    text = data.decode("utf-8", "replace")
    place = place_at(text, len(data[:index].decode("utf-8")), 0, name)
    what = f"byte {index + 1} (0x{data[index]:02X}) is not UTF-8"
    mend = "save the file as UTF-8 in your editor"
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        what, mend = "this file is in UTF-16", "save it as UTF-8 in your editor"
    else:
        sign = data[index : index + 1].decode("cp1252", "replace")
        if sign.isprintable() and sign != "\ufffd":
            mend += f"; it looks like a '{sign}' saved as Latin-1 or Windows-1252"
    return SiteError([Problem(place, what, "a text file in UTF-8", mend)], text)
