"""Links of the documentation: every page is reachable, every relative link leads somewhere."""

import re
from pathlib import Path

from house.modules import ROOT

LINK = re.compile(r"!?\[[^\]]*\]\(<?([^)>\s]+)>?(?:\s+\"[^\"]*\")?\)|<img[^>]+src=\"([^\"]+)\"")


def prose(text: str) -> str:
    """The text without code, where brackets mean something else."""
    return re.sub(r"^(```|~~~).*?^\1|`[^`\n]+`", "", text, flags=re.M | re.S)


def targets(page: Path) -> list[str]:
    """Relative targets of the links of a page."""
    found = [a or b for a, b in LINK.findall(prose(page.read_text(encoding="utf-8")))]
    return [t for t in found if not re.match(r"[a-z]+:", t)]


def anchors(page: Path) -> set[str]:
    """Names that headings can be linked by."""
    headings = re.findall(r"^#+ (.+)$", re.sub(r"^```.*?^```", "", page.read_text("utf-8"), flags=re.M | re.S), re.M)
    return {re.sub(r"[^\w\- ]", "", h.lower()).strip().replace(" ", "-") for h in headings}


def broken_links(page: Path) -> list[str]:
    """Links of one page that lead nowhere."""
    faults = []
    for target in targets(page):
        name, _, anchor = target.partition("#")
        path = (page.parent / name).resolve() if name else page
        if not path.exists():
            faults.append(f"{page.name}: {target} does not exist")
        elif anchor and path.suffix == ".md" and anchor not in anchors(path):
            faults.append(f"{page.name}: {target} has no such heading")
    return faults


def unreachable(docs: Path) -> list[str]:
    """Pages below `docs` to which no path of links leads from its index."""
    waiting, seen = [docs / "index.md"], {(docs / "index.md").resolve()}
    while waiting:
        page = waiting.pop()
        for target in targets(page):
            path = (page.parent / target.partition("#")[0]).resolve()
            if path.suffix == ".md" and path.exists() and path not in seen:
                seen.add(path)
                waiting.append(path)
    return [str(p.relative_to(docs)) for p in sorted(docs.rglob("*.md")) if p.resolve() not in seen]


def pages() -> list[Path]:
    """Everything that a reader may open."""
    top = [p for p in sorted(ROOT.glob("*.md"))]
    return top + sorted((ROOT / "docs").rglob("*.md")) + [ROOT / "tests" / "README.md"]
