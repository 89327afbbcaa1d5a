"""Every rule is a pair of files: what checks, and the page that explains."""

import ast
import re
from pathlib import Path

from house.modules import ROOT

FOLDER = ROOT / "src" / "ohmstead" / "rules"
# What a page must tell, as a pattern for its headings.
SECTIONS = {
    "why": r"why",
    "how to mend": r"mend",
    "what it cannot see": r"cannot see",
    "source": r"sources?",
    "Fails": r"fails",
    "Passes": r"passes",
}


def rule_files(folder: Path = FOLDER) -> list[Path]:
    """The checking halves; a name with an underscore in front belongs to the room itself."""
    return [p for p in sorted(folder.glob("*.py")) if not p.name.startswith("_") and _is_rule(p)]


def _is_rule(path: Path) -> bool:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return any(isinstance(n, ast.FunctionDef) and n.name == "check" for n in tree.body)


def page_faults(path: Path) -> list[str]:
    """What is missing in the pair whose checking half is `path`."""
    faults = []
    tree = ast.parse(path.read_text(encoding="utf-8"))
    sentence = (ast.get_docstring(tree) or "").strip()
    if not sentence.splitlines() or not sentence.splitlines()[0].endswith("."):
        faults.append(f"{path.name}: does not begin with one sentence")
    page = path.with_suffix(".md")
    if not page.exists():
        return [*faults, f"{path.name}: has no page {page.name}"]
    text = page.read_text(encoding="utf-8")
    if not text.startswith("# "):
        faults.append(f"{page.name}: does not begin with its title")
    headings = [h.strip() for h in re.findall(r"^#{2,3} (.+)$", text, re.M)]
    for section, pattern in SECTIONS.items():
        if not any(re.search(rf"\b{pattern}\b", h, re.I) for h in headings):
            faults.append(f"{page.name}: no section on {section}")
    for name in ("Fails", "Passes"):
        below = re.search(rf"^## {name}\b.*?\n(.*?)(?=^## |\Z)", text, re.M | re.S)
        if below and "```yaml" not in below[1]:
            faults.append(f"{page.name}: {name} shows no site file")
    return faults


def lonely_pages(folder: Path = FOLDER) -> list[str]:
    """Pages without a checking half; `slug.xx.md` is a translation of `slug.md`."""
    names = {p.stem for p in rule_files(folder)}
    return [p.name for p in sorted(folder.glob("*.md")) if p.name.split(".")[0] not in names]
