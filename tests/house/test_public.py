"""Public names are typed, documented and take no yes/no."""

from pathlib import Path

import pytest

from house import public
from house.modules import read_package, write_package


def test_everything_public_is_documented() -> None:
    assert public.documentation_faults(read_package()) == []


def test_everything_public_is_typed() -> None:
    assert public.typing_faults(read_package()) == []


def test_no_public_function_takes_a_yes_no() -> None:
    assert public.yes_no_faults(read_package()) == []


def test_missing_docstrings_are_found(tmp_path: Path) -> None:
    text = 'class A:\n    """Yes."""\n    def f(self): ...\n    def _g(self): ...\ndef h(): ...\n'
    package = write_package(tmp_path, {"site/a.py": text, "rules/r.py": '"""A rule."""\ndef check(e): ...\n'})
    assert public.documentation_faults(package) == [
        "ohmstead.site.a: no docstring",
        "ohmstead.site.a:3 A.f: no docstring",
        "ohmstead.site.a:5 h: no docstring",
    ]


def test_missing_types_are_found(tmp_path: Path) -> None:
    text = "def f(a: int, b) -> int: ...\ndef g(): ...\nclass A:\n    def m(self) -> None: ...\n"
    assert public.typing_faults(write_package(tmp_path, {"site/a.py": text})) == [
        "ohmstead.site.a:1 f: b has no type",
        "ohmstead.site.a:2 g: the answer has no type",
    ]


@pytest.mark.parametrize("bad", ["x: bool", "x: bool | None = None", "x: Optional[bool]", "*, x=True", "x: 'bool'"])
def test_a_yes_no_is_found(tmp_path: Path, bad: str) -> None:
    assert len(public.yes_no_faults(write_package(tmp_path, {"site/a.py": f"def f({bad}): ...\n"}))) == 1


@pytest.mark.parametrize("good", ["x: Callable[[str], bool]", "x: int = 1", "x: str | None = None"])
def test_other_parameters_are_no_yes_no(tmp_path: Path, good: str) -> None:
    assert public.yes_no_faults(write_package(tmp_path, {"site/a.py": f"def f({good}): ...\n"})) == []
