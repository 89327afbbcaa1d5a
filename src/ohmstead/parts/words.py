"""Cuts the builder's short notes into words, whatever the order they come in."""

import re


def take(text: str, pattern: str) -> tuple[str, ...] | None:
    """The groups of the first match (all of it when it has none), ignoring case; None without a match."""
    found = re.search(pattern, text, re.IGNORECASE)
    if found is None:
        return None
    return found.groups() or (found.group(0),)


def without(text: str, pattern: str) -> str:
    """The text with the first match of the pattern cut out."""
    return re.sub(pattern, " ", text, count=1, flags=re.IGNORECASE)


def find_word(text: str, word: str) -> int:
    """Where a word or phrase stands alone in a text, -1 where it does not, without compiling a pattern."""
    at = text.find(word)
    while at >= 0:
        before, after = text[at - 1 : at], text[at + len(word) : at + len(word) + 1]
        if not (before.isalnum() or after.isalnum()):
            return at
        at = text.find(word, at + 1)
    return -1


def cut_word(text: str, word: str) -> str:
    """The text without the first stand-alone place of a word."""
    at = find_word(text, word)
    return text if at < 0 else text[:at] + " " + text[at + len(word) :]


def tidy(text: str) -> str:
    """One space between words, no space at the ends."""
    return " ".join(text.split())


def nearest(value: float, steps: tuple[float, ...]) -> tuple[float | None, float | None]:
    """The steps just below and just above a value; None where there is none."""
    below = [step for step in steps if step < value]
    above = [step for step in steps if step > value]
    return (max(below) if below else None, min(above) if above else None)


def either(value: float, steps: tuple[float, ...], unit: str) -> str:
    """The neighbours of a value in words: "7.5 A or 10 A"."""
    return " or ".join(f"{step:g} {unit}" for step in nearest(value, steps) if step is not None)


def like(word: str, known: list[str]) -> str:
    """The nearest known word, or an empty text."""
    from difflib import get_close_matches

    found = get_close_matches(word.lower(), known, n=1, cutoff=0.6)
    return found[0] if found else ""
