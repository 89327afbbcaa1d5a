"""Entries put in, changed and taken out: only what was asked for changes, notes and spaces stay."""

import pytest

from ohmstead.site.edit import EditRefused
from ohmstead.site.reshape import inside_braces, names_at, plain_text, stretches, with_item, with_value, without

BLOCK = """\
ohmstead: 1
site:
  name: 'hut: two'    # ours
zones:
  hide:
    air: 2..27 °C     # measured
  # nobody knows the loft
  loft: {air: -4..41 °C}

# the sun
shade:
  obstacles:
runs:
  - {from: a, to: b}  # first
  # more to come
"""
FILE = "hut.yaml"


def lines_changed(before: str, after: str) -> set[str]:
    return set(before.splitlines()) ^ set(after.splitlines())


def test_a_block_is_replaced_and_the_notes_behind_it_stay() -> None:
    after = with_value(BLOCK, FILE, ("zones", "hide"), "{air: 3..20 °C}")
    assert plain_text(after, FILE, ("zones", "hide")) == "{air: 3..20 °C}"
    assert "# nobody knows the loft\n  loft: {air: -4..41 °C}\n\n# the sun" in after


def test_an_entry_taken_out_leaves_the_note_before_the_next() -> None:
    after = without(BLOCK, FILE, ("zones", "hide"))
    assert names_at(after, FILE, ("zones",)) == ("loft",)
    assert lines_changed(BLOCK, after) == {"  hide:", "    air: 2..27 °C     # measured"}


@pytest.mark.parametrize(
    ("steps", "made"),
    [
        (("shade", "obstacles", "oak"), "  obstacles: {oak: {top: 3 m}}"),
        (("shade", "horizon"), "  horizon: {top: 3 m}"),
        (("plate", "parts", "bar"), "  parts: {bar: {top: 3 m}}"),
        (("season",), "season: {top: 3 m}"),
        (("zones", "cellar"), "  cellar: {top: 3 m}"),
    ],
)
def test_what_is_missing_around_an_entry_is_made(steps: tuple[str, ...], made: str) -> None:
    after = with_value(BLOCK, FILE, steps, "{top: 3 m}")
    assert made in after.splitlines() and plain_text(after, FILE, steps) == "{top: 3 m}"
    assert without(after, FILE, steps)


def test_a_value_without_a_place_is_refused() -> None:
    with pytest.raises(EditRefused):
        with_value(BLOCK, FILE, ("site", "name", "first"), "x")
    with pytest.raises(EditRefused):
        without(BLOCK, FILE, ("zones", "cellar"))


def test_an_item_comes_right_behind_the_last() -> None:
    after = with_item(BLOCK, FILE, "runs", "{from: b, to: c}")
    assert after.index("to: c") < after.index("# more to come")
    assert lines_changed(BLOCK, after) == {"  - {from: b, to: c}"}


@pytest.mark.parametrize("value", ["a, b", "a: b", "# a", "'a'", "- a", "a}", "*a", "@a", "a #b"])
def test_a_value_in_braces_is_read_as_it_was_typed(value: str) -> None:
    after = with_value(BLOCK, FILE, ("zones", "loft", "inside"), inside_braces(value))
    assert plain_text(after, FILE, ("zones", "loft", "inside")) == value


def test_a_key_is_found_where_it_stands() -> None:
    where = stretches(BLOCK, FILE, ("zones",))
    start, end = where["hide"]
    assert BLOCK[start:end] == "hide:\n    air: 2..27 °C" and BLOCK[slice(*where["loft"])] == "loft: {air: -4..41 °C}"
