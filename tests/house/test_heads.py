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


def test_everything_cited_is_in_the_bibliography() -> None:
    assert heads.unknown_keys() == []


def test_citations_are_seen(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text("standard: {source: ul-248-15, place: x}\nsource: b\n", encoding="utf-8")
    (tmp_path / "a.py").write_text('RULE = Rule("slug", Source("c", "1"))\nX = Source(key="d")\n', encoding="utf-8")
    assert heads.cited(tmp_path / "a.yaml") == {"ul-248-15", "b"}
    assert heads.cited(tmp_path / "a.py") == {"c", "d"}


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
