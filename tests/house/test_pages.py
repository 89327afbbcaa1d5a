"""Rules and their pages come in pairs, and the pages are whole."""

from pathlib import Path

import pytest

from house import pages

CHECK = '"""A fuse that lets through more than its cable bears."""\ndef check(evidence): ...\n'
PAGE = """# fuse-over-cable
A fuse.
## Why
## How to mend
## What the check cannot see
## Source
## Fails
```yaml
ohmstead: 1
```
## Passes
```yaml
ohmstead: 1
```
"""


def test_there_are_rules() -> None:
    assert len(pages.rule_files()) >= 40


def test_every_rule_has_a_whole_page() -> None:
    assert [fault for path in pages.rule_files() for fault in pages.page_faults(path)] == []


def test_no_page_stands_alone() -> None:
    assert pages.lonely_pages() == []


def pair(folder: Path, check: str, page: str | None) -> list[str]:
    (folder / "a_rule.py").write_text(check, encoding="utf-8")
    if page is not None:
        (folder / "a_rule.md").write_text(page, encoding="utf-8")
    return [fault for path in pages.rule_files(folder) for fault in pages.page_faults(path)]


def test_a_good_pair_passes(tmp_path: Path) -> None:
    assert pair(tmp_path, CHECK, PAGE) == []


@pytest.mark.parametrize(
    ("check", "page", "fault"),
    [
        (CHECK, None, "has no page"),
        (CHECK.replace("bears.", "bears"), PAGE, "one sentence"),
        (CHECK, PAGE.replace("## Why\n", ""), "no section on why"),
        (CHECK, PAGE.replace("## Passes", "## Good"), "no section on Passes"),
        (CHECK, PAGE.replace("```yaml", "```"), "shows no site file"),
        (CHECK, PAGE[1:], "title"),
    ],
)
def test_a_poor_pair_is_told(tmp_path: Path, check: str, page: str | None, fault: str) -> None:
    assert any(fault in text for text in pair(tmp_path, check, page))


def test_a_lonely_page_is_found_and_a_translation_is_none(tmp_path: Path) -> None:
    pair(tmp_path, CHECK, PAGE)
    (tmp_path / "a_rule.de.md").write_text("# Regel", encoding="utf-8")
    (tmp_path / "lost.md").write_text("# lost", encoding="utf-8")
    assert pages.lonely_pages(tmp_path) == ["lost.md"]
