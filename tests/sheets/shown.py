"""Small helpers of the tests of sheets: tables of a document, and what the site file says read without the engine."""

from collections.abc import Iterator
from math import ceil
from pathlib import Path
from types import ModuleType
from typing import Any

import yaml

from ohmstead import study
from ohmstead.sheets.document import Document, Table, Terms

ROOT = Path(__file__).resolve().parents[2]
SITES = {
    "observatory": ROOT / "examples" / "skerry" / "skerry-mended.yaml",
    "six mistakes": ROOT / "examples" / "skerry" / "skerry.yaml",
    "salt pan": ROOT / "examples" / "saltpan" / "saltpan.yaml",
    "cabin": ROOT / "examples" / "cabin" / "cabin.yaml",
}


def tables(document: Document) -> dict[str, Table]:
    """Tables by name; each must be whole."""
    found = {block.name: block for block in document.blocks if isinstance(block, Table)}
    for table in found.values():
        assert all(len(row) == len(table.head) for row in table.rows), table.name
        assert all(len(row) == len(table.raw_head) for row in table.raw), table.name
        assert len(table.rows) == len(table.raw)
        assert len(table.align) in (0, len(table.head))
        assert len(table.widths) in (0, len(table.head))
    return found


def drawn(sheet: ModuleType, path: Path, terms: Terms | None = None) -> tuple[study.Study, dict[str, Table]]:
    """A study and the tables of one of its sheets."""
    opened = study.open_site(path)
    return opened, tables(sheet.draw(opened, terms or Terms()))


def raw(table: Table) -> list[dict[str, Any]]:
    """Raw rows by column name."""
    return [dict(zip(table.raw_head, row, strict=True)) for row in table.raw]


def plain_runs(path: Path) -> Iterator[dict[str, str]]:
    """Runs as plain YAML: texts, no engine."""
    yield from yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)["runs"]


def metres(text: str) -> float:
    """The metres of "0.4 m"."""
    number, unit = text.split()
    assert unit == "m"
    return float(number)


def by_hand_m(route_m: float) -> float:
    """The stated rule worked out again: 5 %, and 0.15 m or a quarter of the route at each end, up to the centimetre."""
    return ceil(round(100 * (1.05 * route_m + 2 * min(0.15, 0.25 * route_m)), 6)) / 100
