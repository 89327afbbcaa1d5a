"""The rule pages in docs/ are those that stand beside the rules."""

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

from house.modules import ROOT


@pytest.fixture
def tool() -> ModuleType:
    spec = importlib.util.spec_from_file_location("rule_pages", ROOT / "tools" / "rule_pages.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_pages_are_in_step(tool: ModuleType) -> None:
    wanted = tool.rule_pages()
    there = {path.name: path.read_text(encoding="utf-8") for path in tool.FOLDER.glob("*.md")}
    stale = sorted(name for name in {*wanted, *there} if wanted.get(name) != there.get(name))
    assert stale == [], "run `python tools/rule_pages.py`"


def test_writing_adds_changes_and_removes(tool: ModuleType, tmp_path: Path) -> None:
    (tmp_path / "gone-rule.md").write_text("# gone-rule\n", encoding="utf-8")
    (tmp_path / "index.md").write_text("old\n", encoding="utf-8")
    assert tool.write(tmp_path) == len(tool.rule_pages()) - 1
    assert {path.name: path.read_text(encoding="utf-8") for path in tmp_path.glob("*.md")} == tool.rule_pages()
