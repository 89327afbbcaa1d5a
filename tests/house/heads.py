"""Every published table says what it is, where it comes from and how it was read."""

import ast
import csv
import io
import re
import tomllib
from pathlib import Path

from house.modules import ROOT
from house.trust import READS, titles

PACKAGE = ROOT / "src" / "ohmstead"
FOLDER = ROOT / "src" / "ohmstead" / "tables" / "data"


def head_faults(path: Path, known: set[str]) -> list[str]:
    """What is missing or wrong in the commented TOML head of one csv file."""
    lines = path.read_text(encoding="utf-8").splitlines()
    commented = [line.lstrip("#").strip() for line in lines if line.startswith("#")]
    try:
        head = tomllib.loads("\n".join(commented))
    except tomllib.TOMLDecodeError as error:
        return [f"{path.name}: the head is not TOML: {error}"]
    faults = [
        f"{path.name}: no {key}" for key in ("title", "source", "place", "read") if not str(head.get(key, "")).strip()
    ]
    if head.get("source") and head["source"] not in known:
        faults.append(f"{path.name}: source {head['source']} is not in sources.toml")
    if head.get("read") and head["read"] not in READS:
        faults.append(f"{path.name}: read = {head['read']!r}, expected one of {', '.join(READS)}")
    rows = list(csv.reader(io.StringIO("\n".join(line for line in lines if not line.startswith("#")))))
    if len(rows) < 2:
        return [*faults, f"{path.name}: no rows"]
    faults += [f"{path.name}: column {column} is not explained" for column in rows[0] if not head.get(column)]
    faults += [f"{path.name}: {row} has {len(row)} cells" for row in rows[1:] if len(row) != len(rows[0])]
    return faults


def all_faults() -> list[str]:
    return [fault for path in sorted(FOLDER.rglob("*.csv")) for fault in head_faults(path, set(titles()))]


def cited(path: Path) -> set[str]:
    """Keys of the bibliography that a part (`source: key`) or a module (`Source("key", ...)`) names."""
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".yaml":
        return set(re.findall(r"\bsource: *\"?([\w.-]+)", text))
    keys = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Source":
            first = node.args[0] if node.args else next((k.value for k in node.keywords if k.arg == "key"), None)
            if isinstance(first, ast.Constant):
                keys.add(str(first.value))
    return keys


def unknown_keys() -> list[str]:
    """Citations, anywhere in the package, of something the bibliography does not hold."""
    known = set(titles())
    files = sorted(p for p in PACKAGE.rglob("*") if p.suffix in (".yaml", ".py"))
    return [f"{p.name}: {key}" for p in files for key in sorted(cited(p) - known)]
