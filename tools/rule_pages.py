"""Write docs/rules: one page a rule and the index of them all, from the pages that stand beside the rules."""

import re
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "src"))

from ohmstead.rules.catalogue import Page, module_of, page, rule_names  # noqa: E402
from ohmstead.tables.sources import source  # noqa: E402

FOLDER = ROOT / "docs" / "rules"
WRITTEN = "<!-- Written by tools/rule_pages.py from src/ohmstead/rules; change it there. -->\n"
INDEX = """# Rules

{written}
Each rule is one sentence, a source, and a page that says what it looks for, why, how to mend it, what it cannot see,
with a small site that fails and one that passes. `ohmstead explain RULE` shows the same page. [The problems that
builders really have](../needs.md) says which rule catches which.

| rule | what it is about | source |
|---|---|---|
{rows}
"""


def rule_pages() -> dict[str, str]:
    """File name in docs/rules -> text, the index included."""
    pages = [page(slug) for slug in rule_names()]
    rows = "\n".join(_row(found) for found in pages)
    return {"index.md": INDEX.format(written=WRITTEN, rows=rows)} | {
        f"{found.slug}.md": _text(found) for found in pages
    }


def _row(found: Page) -> str:
    rule = module_of(found.slug).RULE
    origin = str(source(rule.source.key))
    if rule.source.place:
        origin += ", " + rule.source.place
    return f"| [{found.slug}]({found.slug}.md) | {_cell(found.sentence)} | {_cell(origin)} |"


def _cell(text: str) -> str:
    return re.sub(r"\s+", " ", text).replace("|", "\\|")


def _text(found: Page) -> str:
    """The rule's own page, its sentence under the title and a way back to the index."""
    title, _, body = found.text.partition("\n")
    return f"{title}\n\n{WRITTEN}\n{found.sentence}\n\n[All rules](index.md)\n{body.rstrip()}\n"


def write(folder: Path = FOLDER) -> int:
    """Write every page, remove those of rules that are gone; how many there are."""
    folder.mkdir(parents=True, exist_ok=True)
    wanted = rule_pages()
    for path in folder.glob("*.md"):
        if path.name not in wanted:
            path.unlink()
    for name, text in wanted.items():
        (folder / name).write_text(text, encoding="utf-8")
    return len(wanted) - 1


if __name__ == "__main__":
    print(f"{write()} rules in {FOLDER.relative_to(ROOT)}")
