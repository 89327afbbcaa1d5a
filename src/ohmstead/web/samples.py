"""Example sites that can be copied into a folder: from the package, or from the repository it is run in."""

from pathlib import Path

HERE = Path(__file__).resolve()
PLACES = (HERE.with_name("examples"), HERE.parents[3] / "examples")
NAMES = ("skerry.yaml", "skerry-mended.yaml", "skerry-open.yaml", "cabin.yaml", "saltpan.yaml")


def samples() -> dict[str, Path]:
    """Name -> file of every example that is here."""
    found: dict[str, Path] = {}
    for place in PLACES:
        for path in sorted(place.rglob("*.yaml")) if place.is_dir() else []:
            if path.name in NAMES:
                found.setdefault(path.name, path)
    return {name: found[name] for name in NAMES if name in found}
