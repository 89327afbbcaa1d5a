"""Reading tables and the bibliography."""

import math
import tomllib
from pathlib import Path

import pytest

from ohmstead.tables import reader
from ohmstead.tables.reader import columns, head, names, numbers, rows, words
from ohmstead.tables.sources import source, sources


def test_columns_are_numbers_or_text():
    assert columns("copper_class_5")["size_mm2"][:2] == [0.5, 0.75]
    assert columns("small_craft_ampacity")["size"][-1] == "4/0"
    assert words("small_craft_ampacity", "size")[0] == "18"


def test_an_empty_cell_is_not_a_number():
    assert math.isnan(rows("iec_pvc70")[0]["f_a"])


def test_text_where_numbers_belong_is_told():
    with pytest.raises(ValueError, match="sae_area, column size: '18' is not a number"):
        numbers("sae_area", "size")


def test_a_table_is_read_once():
    assert rows("iec_grouping") is rows("iec_grouping")


def test_a_short_row_is_told(tmp_path, monkeypatch):
    (tmp_path / "torn.csv").write_text('# title = "torn"\na,b\n1,2\n3\n', encoding="utf-8")
    monkeypatch.setattr(reader, "DATA", str(tmp_path))
    with pytest.raises(ValueError, match="torn, row 2: 1 cells under 2 columns"):
        columns("torn")


@pytest.mark.parametrize("name", names())
def test_every_head_names_a_known_source_and_its_columns(name):
    said = head(name)
    assert source(said["source"]).title
    assert said["read"] in ("original", "second-hand", "from memory")
    assert set(columns(name)) <= set(said)
    for row in rows(name):
        if "row_source" in row:
            assert source(str(row["row_source"])).title


SIGNED = {"poe_class", "adiabatic_k"}
ZERO_IS_A_FIGURE = {
    "clearness_chain",  # a day that never follows another
    "clearness_class",  # the classes begin at an index of zero
    "day_range",  # the day begins at midnight
    "enclosure_c_small",  # a box without height
    "enclosure_surface",  # a face that stands on something
    "part_sizes",  # a pattern of two holes
}


@pytest.mark.parametrize("name", sorted(ZERO_IS_A_FIGURE))
def test_no_figure_is_negative(name):
    for column, cells in columns(name).items():
        assert all(cell >= 0 for cell in cells if isinstance(cell, float)), column


@pytest.mark.parametrize("name", [name for name in names() if name not in SIGNED | ZERO_IS_A_FIGURE])
def test_figures_are_positive(name):
    for column, cells in columns(name).items():
        numeric = [cell for cell in cells if isinstance(cell, float) and not math.isnan(cell)]
        assert all(cell > 0 for cell in numeric), column


def test_sources_agree_with_a_full_toml_reader():
    path = Path(reader.__file__).parent / "sources.toml"
    full = tomllib.loads(path.read_text(encoding="utf-8"))
    assert full.keys() == sources().keys()
    for key, entry in full.items():
        ours = source(key)
        assert (ours.title, ours.year, ours.note) == (entry["title"], entry.get("year", 0), entry.get("note", ""))


def test_a_source_shows_its_year_only_when_known():
    assert str(source("iec-60228")).endswith("(2004)")
    assert str(source("common-practice")) == "common practice, no source"


def test_an_unknown_source_is_our_own_fault():
    with pytest.raises(KeyError):
        source("iec-0")
