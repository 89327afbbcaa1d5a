"""Spoilt site files: whatever is done to a file, it is read or refused with messages, never anything else."""

import random
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ohmstead.site.describe import EXAMPLE
from ohmstead.site.problems import MOST_PROBLEMS, SiteError
from ohmstead.site.read import read_site, read_text

FULL = (Path(__file__).parents[1] / "site" / "full.yaml").read_text(encoding="utf-8")
BASES = (FULL, EXAMPLE, EXAMPLE, EXAMPLE, EXAMPLE.replace("\n", "\r\n"))
BATCHES, FILES_A_BATCH = 16, 330  # 5280 files

ODD = [
    "\x00", "\x07", "\x1b[31m", "\t", "\r", "\x85", "\xa0", "\u2028", "\u200b", "\u202e", "\ufeff", "\ufffe", "𝟜", "½",
    "²", "∞", "٣", "９", "é́", "µ", "Ω", "−", "🙂", "{", "}", "[", "]", "{{", ":", ": ", ",", "- ", "? ", "#", " #",
    "&a ",
    "*a", "!!python/object:os.system ", "!x ", "| ", "> ", "%", "@", "`", "'", '"', "\\", "<<: ", "---\n", "...\n",
    "~", "null", "true", "nan", "inf", "-1", "0", "1e308", "1e999", "9" * 400, "choose", "[]", "{}", "[" * 40,
    "1,6 m", " / ", " -> ", "..", "±", "-", " for ", " at ", " V", " A", "rest", "dusk..dawn", "\n", "\n\n  ", "  ",
]  # fmt: skip
TOKEN = re.compile(r"[^\s,:{}\[\]]+")


def spoil_bytes(data: str, dice: random.Random) -> bytes:
    raw = bytearray(data, "utf-8")
    for _ in range(dice.randint(1, 6)):
        at = dice.randrange(len(raw))
        match dice.randrange(4):
            case 0:
                raw[at] = dice.randrange(256)
            case 1:
                raw.insert(at, dice.randrange(256))
            case 2:
                del raw[at : at + dice.randint(1, 20)]
            case _:
                raw[at:at] = raw[at : at + dice.randint(1, 40)]
        raw = raw or bytearray(b"a")
    return bytes(raw)


def spoil_lines(text: str, dice: random.Random) -> str:
    lines = text.split("\n")
    at, other = dice.randrange(len(lines)), dice.randrange(len(lines))
    match dice.randrange(6):
        case 0:
            del lines[at]
        case 1:
            lines.insert(at, lines[other])
        case 2:
            lines[at], lines[other] = lines[other], lines[at]
        case 3:
            lines[at] = " " * dice.randint(1, 5) + lines[at]
        case 4:
            lines[at] = lines[at][dice.randint(1, 4) :]
        case _:
            lines = lines[: max(at, 1)]
    return "\n".join(lines)


def spoil_tokens(text: str, dice: random.Random) -> str:
    """Swap, delete, double or replace the words of the file."""
    tokens = list(TOKEN.finditer(text))
    one, two = sorted(dice.sample(range(len(tokens)), 2)) if len(tokens) > 1 else (0, 0)
    if one == two:
        return text + "x"
    first, second = tokens[one], tokens[two]
    a, b = first[0], second[0]
    match dice.randrange(4):
        case 0:
            a, b = b, a
        case 1:
            a = ""
        case 2:
            b = b + b
        case _:
            b = a
    return text[: first.start()] + a + text[first.end() : second.start()] + b + text[second.end() :]


def spoil_values(text: str, dice: random.Random) -> str:
    token = dice.choice(list(TOKEN.finditer(text)) or [None])
    if token is None:
        return text + dice.choice(ODD)
    return text[: token.start()] + dice.choice(ODD) + text[token.end() :]


def spoil_signs(text: str, dice: random.Random) -> str:
    for _ in range(dice.randint(1, 3)):
        at = dice.randrange(len(text) + 1)
        text = text[:at] + dice.choice(ODD) + text[at + dice.choice((0, 0, 1, 3)) :]
    return text


SPOILERS: tuple[Callable[[str, random.Random], str | bytes], ...] = (
    spoil_bytes, spoil_lines, spoil_tokens, spoil_tokens, spoil_values, spoil_values, spoil_signs,
)  # fmt: skip


def must_be_told_well(fault: SiteError) -> None:
    lines = re.split(r"\r\n|\r|\n", fault.text)
    assert 0 < len(fault.problems) <= MOST_PROBLEMS
    assert [p.place.line for p in fault.problems] == sorted(p.place.line for p in fault.problems)
    for problem in fault.problems:
        place = problem.place
        for words in (problem.what, problem.expected, problem.mend):
            assert words.strip() and "\n" not in words and len(words) < 1500
        assert 1 <= place.line <= len(lines)
        assert 1 <= place.column <= len(lines[place.line - 1]) + 1
        assert 0 <= place.start <= place.end <= len(fault.text)
    printed = str(fault)
    assert printed.count("   expected  ") == printed.count("   mend      ") >= 1
    assert all(c.isprintable() or c in "\n\t" for c in printed)


def must_be_read_or_refused(spoilt: str | bytes, file: Path) -> str:
    try:
        if isinstance(spoilt, bytes):
            file.write_bytes(spoilt)
            site = read_site(file)
        else:
            site = read_text(spoilt, "site.yaml")
    except SiteError as fault:
        must_be_told_well(fault)
        return "refused"
    for zone in site.zones:
        assert site.air_of(zone).low <= site.air_of(zone).high
    return "read"


@pytest.mark.parametrize("batch", range(BATCHES))
def test_spoilt_files(batch: int, tmp_path: Path) -> None:
    dice = random.Random(batch)
    ends = {"read": 0, "refused": 0}
    for number in range(FILES_A_BATCH):
        spoilt: str | bytes = BASES[number % len(BASES)]
        for _ in range(dice.choice((1, 1, 1, 2, 4))):
            if isinstance(spoilt, str) and spoilt:
                spoilt = dice.choice(SPOILERS)(spoilt, dice)
        ends[must_be_read_or_refused(spoilt, tmp_path / "site.yaml")] += 1
    assert ends["refused"] > FILES_A_BATCH / 2
    assert ends["read"] > 5


YAML_LIKE = st.recursive(
    st.one_of(st.sampled_from(ODD), st.text(max_size=8), st.sampled_from(TOKEN.findall(FULL))),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda items: "[" + ", ".join(items) + "]"),
        st.dictionaries(st.sampled_from(TOKEN.findall(FULL)), inner, max_size=4).map(
            lambda items: "{" + ", ".join(f"{key}: {value}" for key, value in items.items()) + "}"
        ),
    ),
    max_leaves=12,
)


@settings(max_examples=300, deadline=None)
@given(st.sampled_from(["site", "zones", "battery", "parts", "runs", "accepted"]), YAML_LIKE)
def test_any_shape_in_any_section(section: str, content: str) -> None:
    must_be_read_or_refused(f"ohmstead: 1\n{section}: {content}\n", Path())


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=60))
def test_any_text(text: str) -> None:
    must_be_read_or_refused(text, Path())
