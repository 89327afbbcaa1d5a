"""docs/quantities.md says what the reader does: every form, every unit, every trap."""

import re
from pathlib import Path

import pytest

from ohmstead.quantity.read import QuantityError, read_number, read_span
from ohmstead.quantity.units import DIMENSIONS, units_of

PAGE = (Path(__file__).parents[2] / "docs" / "quantities.md").read_text(encoding="utf-8")


def section(title: str) -> str:
    return PAGE.partition(f"## {title}\n")[2].partition("\n## ")[0]


def rows(title: str) -> list[list[str]]:
    lines = [line for line in section(title).splitlines() if line.startswith("| ")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines[1:]]


def quoted(text: str) -> list[str]:
    return re.findall(r"`([^`]+)`", text)


def readable(text: str) -> list[str]:
    """Dimensions as which a text can be read."""
    found = []
    for dimension in DIMENSIONS:
        try:
            read_span(text, dimension)
        except QuantityError:
            continue
        found.append(dimension)
    return found


def test_every_form_is_read() -> None:
    forms = [form for row in rows("Forms") for cell in row for form in quoted(cell)]
    assert len(forms) >= 15
    assert [form for form in forms if not readable(form)] == []


def test_the_table_of_units_is_complete() -> None:
    table = {row[0]: set(quoted(row[1])) - {"5' 3\""} for row in rows("Units")}
    known = {name: set(units_of(name).values()) | ({"mΩ/m", "µΩ/m"} & set(units_of(name))) for name in DIMENSIONS}
    table["temperature difference"] -= {"°C"}  # read as K, listed for the reader
    assert table == {name: units - {""} for name, units in known.items()}


def test_unit_column_names_the_base_unit() -> None:
    for name, _, base in rows("Units"):
        if base and name != "share":
            assert read_number(f"1 {base}", name) == 1.0


@pytest.mark.parametrize("text", ["1,600 m", "1.600,5 m", "1 600 m", "1_600 m", "5 MA", "5 ma", "10 gauge"])
def test_traps_are_refused(text: str) -> None:
    assert f"`{text}`" in section("Traps")
    assert readable(text) == []


def test_traps_that_are_read() -> None:
    assert read_number("1,6 m", "length") == read_number("1.600 m", "length") == 1.6
    assert read_number("1.2e3 A²s", "fuse heat") == 1200.0
    assert read_number("15 K", "temperature") == pytest.approx(-258.15)
    assert [readable(text) for text in ("12 v", "5 a", "10 w")] == [["voltage"], ["current"], ["power"]]
    assert readable("6 mm") == ["length"] and readable("6 mm²") == ["area"]
