"""What the builder may have meant by a word that is not known. Only reached on failure."""

from collections.abc import Iterable

_MOST = 400  # words compared; a file with more names is told without a guess


def nearest(word: str, known: Iterable[str]) -> str:
    """The known word most like this one, or an empty text when none is like it."""
    from difflib import get_close_matches

    choices = list(known)[:_MOST]
    folded = {choice.casefold(): choice for choice in reversed(choices)}
    wanted = word.casefold()[:80]
    if wanted in folded:
        return folded[wanted]
    found = get_close_matches(wanted, folded, n=1, cutoff=0.6)
    if found:
        return folded[found[0]]
    inside = [choice for fold, choice in folded.items() if len(wanted) > 2 and (wanted in fold or fold in wanted)]
    return inside[0] if len(inside) == 1 else ""


def did_you_mean(word: str, known: Iterable[str], otherwise: str) -> str:
    """A mend that proposes the nearest known word, or the other advice when none is near."""
    found = nearest(word, known)
    return f"did you mean '{found}'?" if found else otherwise


def listed(words: Iterable[str]) -> str:
    """Words in a row for a message, a long row cut."""
    known = list(words)
    return ", ".join(known[:30]) + (f" and {len(known) - 30} more" if len(known) > 30 else "")


def quoted(text: str) -> str:
    """Text of the builder as it can stand in a message: in quotes, on one line, shortened."""
    flat = " ".join(text.split())
    return f"'{flat[:60]}…'" if len(flat) > 61 else f"'{flat}'"
