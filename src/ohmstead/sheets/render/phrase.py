"""Keeps a figure and its unit on one line."""

import re

_UNITS = "[kMmµnp]?(?:V|A|W|Wh|Ah|Ω|F|H|m|s|g)|mm²|mm|km|ft|in|AWG|kcmil|°C|°F|K|min|h|d|%|A²s|Nm|N·m|Ω/km"
_FIGURE = re.compile(rf"(?<=[0-9]) (?=(?:{_UNITS})(?![\w²]))")
NO_BREAK = "\u00a0"


def bound(text: str) -> str:
    """The text with no line end between a figure and its unit.

    >>> bound("190 W for 1.5 s in the hide")
    '190\\xa0W for 1.5\\xa0s in the hide'
    """
    return _FIGURE.sub(NO_BREAK, text)
