"""What must stand in no file of the repository: machine paths, registry addresses, far-off scripts."""

import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

from house.modules import ROOT

# One letter of each pattern is in brackets, so that this file does not find itself.
FORBIDDEN = {
    "a package registry's address": (r"pyp[i]\.(org|python)|pythonhoste[d]|registry\.npm[j]s|find-l[i]nks|index-ur[l]"),
    "a path of one machine": (r"(?<![\w.])/(wor[k]|roo[t]|tmp/oh[m]|home/\w[\w-]*|Users/\w[\w-]*|opt/whee[l]s)\b(?!-)"),
    "a script from far off": (r"\bcd[n]\.|jsdeliv[r]|unpk[g]\.com|cdnj[s]|fonts\.google[a]pis|fonts\.gst[a]tic"),
    "how the work was organised": (
        r"\btrans[c]ripts?\b|\bsee[d] (file|document)s?\b|\bissu[e] #?\d+\b|\bshared/re[f]erence"
    ),
}
BINARY = {".png", ".jpg", ".jpeg", ".gif", ".ico", ".pdf", ".woff2", ".xlsx", ".gz", ".zip"}


def tracked(root: Path = ROOT) -> list[Path]:
    """Files under version control; every file when there is none."""
    done = subprocess.run(["git", "ls-files", "-z"], cwd=root, capture_output=True, check=False)
    if done.returncode == 0:
        paths = [root / name for name in done.stdout.decode("utf-8").split("\0") if name]
    else:
        skipped = {".git", ".venv", "out", "build", "dist", "__pycache__"}
        paths = [p for p in root.rglob("*") if not skipped & set(p.relative_to(root).parts)]
    return [p for p in paths if p.is_file() and p.suffix.lower() not in BINARY]


def faults(path: Path, root: Path = ROOT) -> Iterator[str]:
    """Lines that hold what they must not, or that are not UTF-8."""
    try:
        text = path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        # Files that a loader must refuse may be anything.
        if "broken" not in path.parts:
            yield f"{path.relative_to(root)}: not UTF-8"
        return
    for number, line in enumerate(text.splitlines(), start=1):
        for what, pattern in FORBIDDEN.items():
            if re.search(pattern, line, re.I if what != "a path of one machine" else 0):
                yield f"{path.relative_to(root)}:{number}: {what}"
