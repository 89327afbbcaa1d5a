"""Heads of published tables are whole."""

from pathlib import Path

import pytest

from house import heads
from house.trust import titles

GOOD = """# title = "A table"
# source = "iec-60228"
# place = "table 3"
# read = "second-hand"
# size_mm2 = "cross-section"
size_mm2
1.5
"""


def test_every_table_says_where_it_comes_from() -> None:
    assert list(heads.FOLDER.rglob("*.csv"))
    assert heads.all_faults() == []


def test_every_source_has_a_title() -> None:
    assert [key for key, title in titles().items() if title == key] == []


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("", "", None),
        ('title = "A table"', 'title = ""', "no title"),
        ("iec-60228", "hearsay", "not in sources.toml"),
        ("second-hand", "guessed", "expected one of"),
        ('# size_mm2 = "cross-section"\n', "", "not explained"),
        ("1.5\n", "", "no rows"),
        ("1.5\n", "1.5,2\n", "2 cells"),
        ('"table 3"', "table 3", "not TOML"),
    ],
)
def test_a_spoilt_head_is_told(tmp_path: Path, old: str, new: str, fault: str | None) -> None:
    path = tmp_path / "a.csv"
    path.write_text(GOOD.replace(old, new) if old else GOOD, encoding="utf-8")
    faults = heads.head_faults(path, {"iec-60228"})
    assert (faults == []) if fault is None else any(fault in text for text in faults)
