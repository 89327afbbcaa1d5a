"""Temperatures of a finished page in °F, for people who think in them; what is typed in fields stays as typed."""

import re

_SHOWN = re.compile(r"(?<![\w.])([-−]?\d+(?:\.\d+)?)(?:\.\.([-−]?\d+(?:\.\d+)?))?(?: |\u00a0)?°C")
_KEPT = re.compile(r"(?s)<(textarea|script|option|pre)\b.*?</\1>|<[^>]*>")


def in_fahrenheit(page: str) -> str:
    """The page with every temperature in its text told in °F, to the same number of decimals.

    >>> in_fahrenheit('<p title="25 °C">air of -4..41.5 °C</p>')
    '<p title="25 °C">air of 25..106.7 °F</p>'
    """
    out, at = [], 0
    for kept in _KEPT.finditer(page):
        out += [_SHOWN.sub(_turned, page[at : kept.start()]), kept[0]]
        at = kept.end()
    return "".join([*out, _SHOWN.sub(_turned, page[at:])])


def _turned(found: "re.Match[str]") -> str:
    ends = "..".join(_one(end) for end in found.groups() if end is not None)
    return f"{ends} °F"


def _one(text: str) -> str:
    digits = len(text.partition(".")[2])
    return f"{float(text.replace('−', '-')) * 9 / 5 + 32:.{digits}f}"
