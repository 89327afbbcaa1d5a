"""constraints.txt pins what was tested, covers everything we ask for, and holds no address."""

import re
import tomllib

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

from house.modules import ROOT


def project() -> dict:
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def asked() -> list[Requirement]:
    """Everything that pyproject.toml asks for: to run, to build, and in every extra; extras of our own aside."""
    found = project()
    extras = found["project"].get("optional-dependencies", {}).values()
    texts = [
        *found["project"]["dependencies"],
        *found["build-system"]["requires"],
        *(t for e in extras for t in e),
    ]
    return [wish for wish in map(Requirement, texts) if wish.name != found["project"]["name"]]


def pinned(text: str) -> dict[str, Version]:
    """Name -> version; refuses anything but comments and plain pins."""
    pins = {}
    for line in text.splitlines():
        line = line.split("#")[0].strip()
        if not line:
            continue
        pin = re.fullmatch(r"([A-Za-z0-9._-]+)==([^\s;]+)", line)
        if pin is None:
            raise ValueError(f"not a plain pin: {line}")
        pins[canonicalize_name(pin[1])] = Version(pin[2])
    return pins


def test_every_dependency_is_pinned_within_its_bounds() -> None:
    pins = pinned((ROOT / "constraints.txt").read_text(encoding="utf-8"))
    missing = [r.name for r in asked() if canonicalize_name(r.name) not in pins]
    outside = [str(r) for r in asked() if r.name not in missing and pins[canonicalize_name(r.name)] not in r.specifier]
    assert missing == []
    assert outside == []


def test_dependencies_carry_lower_bounds_only() -> None:
    assert [str(r) for r in asked() if [s.operator for s in r.specifier] != [">="]] == []


@pytest.mark.parametrize("line", ["x @ https://a.example/x.whl", "-e .", "--find" + "-links=y", "x>=1", "x"])
def test_anything_but_a_plain_pin_is_refused(line: str) -> None:
    with pytest.raises(ValueError, match="plain pin"):
        pinned(line)
