"""What the YAML reader could not follow, in plain words. Only reached on failure."""

from typing import Any

from .guess import quoted
from .place import Place, place_at
from .problems import Problem

_NESTED = "keys of one thing below each other, all indented by the same number of spaces"
_ONE_VALUE = "one key, a colon, a space and one value"
_PLAIN = "text that begins with a letter or a digit, or text in quotes"

_NO_COLON = (
    "a colon is missing in this line",
    "a key, a colon, a space and a value",
    "write it as key: value, with a space after the colon",
)

# Words in the reader's complaint -> (what, expected, mend).
_KNOWN: tuple[tuple[str, str, str, str], ...] = (
    (
        "tab character",
        "a tab stands where spaces are needed",
        "indentation by spaces",
        "replace the tab by spaces (most editors have a setting for it)",
    ),
    (
        "entries are not allowed",
        "a list item cannot begin here",
        "each '- ' on a line of its own",
        "begin a new line before the dash, or put the text in quotes if the dash belongs to it",
    ),
    (
        "expected '-' indicator",
        "a list goes on without its dash",
        "'- ' before every item of the list",
        "begin this line with '- ', or indent it under the item above",
    ),
    (
        "escape",
        "an unknown escape stands in this quoted text",
        "plain text between the quotes",
        "use single quotes, in which \\ means nothing special",
    ),
    (
        "hexa",
        "an unknown escape stands in this quoted text",
        "plain text between the quotes",
        "use single quotes, in which \\ means nothing special",
    ),
    (
        "hexdecimal",
        "an unknown escape stands in this quoted text",
        "plain text between the quotes",
        "use single quotes, in which \\ means nothing special",
    ),
    ("incompatible", "this %YAML line asks for another version", "no % lines at all", "delete the line"),
    ("directive", "a line that begins with % is not read", "no % lines at all", "delete the line"),
    (
        "expected <document start>",
        "the text goes on after the end of the file's content",
        "one set of sections",
        "look at the indentation above, and remove any '---' or '...' line",
    ),
    (
        "document start",
        "the text goes on after the end of the file's content",
        "one set of sections",
        "look at the indentation above, and remove any '---' or '...' line",
    ),
)


def explain(fault: Exception, text: str, file: str, shift: int) -> Problem:
    """The problem behind a complaint of the YAML reader, which began `shift` characters into the text."""
    problem = str(getattr(fault, "problem", None) or fault)
    context = str(getattr(fault, "context", None) or "")
    mark = getattr(fault, "problem_mark", None) or getattr(fault, "context_mark", None)
    at = _clamped(mark, text, shift)
    opened = getattr(fault, "context_mark", None)
    begin = _clamped(opened, text, shift) if opened is not None else at
    place = place_at(text, at, at + 1, file)
    if text[at : at + 1] == "\t" or "tab character" in problem:
        return Problem(place, *_KNOWN[0][1:])
    if "quoted scalar" in context and "end of" in problem:
        return Problem(
            place_at(text, begin, begin + 1, file),
            "this quote is never closed",
            "the same quote at both ends of the text",
            "close it on its line",
        )
    if "while scanning an a" in context:
        return _special(place, text, begin)
    if "flow mapping" in context or "flow sequence" in context:
        return _unclosed(place, place_at(text, begin, begin + 1, file), text)
    if "expected ':'" in problem and text[at - 1 : at] == ":":
        return Problem(place, "a space is missing after this colon", "key: value", "put a space behind the colon")
    if "expected ':'" in problem:
        return Problem(place_at(text, begin, begin + 1, file), *_NO_COLON)
    if "mapping values" in problem:
        return _second_colon(place, text)
    if "expected key" in problem or "<block end>" in problem:
        return _misfit(place, text)
    if "start any token" in problem:
        return _special(place, text, at)
    if "node content" in problem or "while parsing a flow node" in context:
        return Problem(
            place,
            f"{quoted(text[at : at + 1] or 'the end')} stands where a value should be",
            _ONE_VALUE,
            "put a value before it, or remove it if there is one too many",
        )
    if "tag" in context or "tag" in problem:
        return _special(place, text, at)
    if "block scalar" in context:
        return Problem(
            place,
            f"text after {quoted(text[begin : begin + 1])} is not understood",
            "a value in one line",
            "write the value behind its key, in quotes if it begins with | or >",
        )
    for sign, *words in _KNOWN:
        if sign in problem:
            return Problem(place, *words)
    return Problem(
        place,
        f"this is not readable as YAML: {problem}",
        _ONE_VALUE,
        "look at quotes, braces and indentation here and in the line above",
    )


def _clamped(mark: Any, text: str, shift: int) -> int:
    """The character a mark points at, never behind the last visible one."""
    last = max(len(text.rstrip()) - 1, 0)
    return min(max(mark.index + shift, 0), last) if mark is not None else 0


def _special(place: Place, text: str, at: int) -> Problem:
    sign = text[at : at + 1]
    if sign in "&*" and sign:
        return Problem(
            place,
            f"the text begins with '{sign}', which YAML takes for an anchor",
            _PLAIN,
            "put the text in quotes",
        )
    if sign == "%" and place.column > 1:
        return Problem(place, "the text begins with '%'", _PLAIN, "put the text in quotes, or write the number first")
    return Problem(
        place,
        f"the text begins with {quoted(sign)}, which has a meaning of its own in YAML",
        _PLAIN,
        "put the text in quotes",
    )


def _unclosed(place: Place, begin: Place, text: str) -> Problem:
    sign = text[begin.start : begin.start + 1]
    closing = "]" if sign == "[" else "}"
    if place.line != begin.line or place.start == len(text.rstrip()) - 1:
        noticed = f" (noticed in line {place.line})" if place.line != begin.line else ""
        return Problem(
            begin,
            f"this '{sign}' is never closed{noticed}",
            f"a '{closing}' that ends it",
            f"add the '{closing}' where the list of values ends",
        )
    return Problem(
        place,
        f"a comma or '{closing}' is missing before this",
        "values parted by ', '",
        "add the comma; put quotes around text that holds { } [ ] or quotes",
    )


def _before(place: Place, text: str) -> str:
    return text[place.start - place.column + 1 : place.start]


def _second_colon(place: Place, text: str) -> Problem:
    before = _before(place, text)
    if ": " in before:
        return Problem(
            place,
            "a second colon stands in this line",
            _ONE_VALUE,
            "put the value in quotes if the colon belongs to it, or begin a new line",
        )
    return Problem(
        place,
        "this line does not fit below the one above it",
        _NESTED,
        "look for a missing colon in the line above, or for a difference in indentation",
    )


def _misfit(place: Place, text: str) -> Problem:
    before = _before(place, text)
    if text[place.start] == ":":
        return Problem(place, "a name is missing before this colon", _ONE_VALUE, "write a name before the colon")
    if before.strip():
        return Problem(
            place,
            "text stands after the end of the value",
            _ONE_VALUE,
            "remove it, or put the whole value in quotes",
        )
    return Problem(
        place,
        "this line is indented unlike the lines it belongs to",
        _NESTED,
        "give it the same number of spaces as its neighbours",
    )
