"""Files that cannot be read at all are refused in words."""

import os
from pathlib import Path

import pytest

from ohmstead.site.read import SiteError, read_site, read_text


def told(path: str | Path) -> str:
    with pytest.raises(SiteError) as fault:
        read_site(path)
    (problem,) = fault.value.problems
    assert problem.what and problem.expected and problem.mend
    return str(fault.value)


def test_a_missing_file(tmp_path: Path) -> None:
    assert told(tmp_path / "nothing.yaml").startswith(f"{tmp_path / 'nothing.yaml'}: there is no such file\n")


def test_a_folder(tmp_path: Path) -> None:
    assert "this is a folder" in told(tmp_path)


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="everything may be read here")
def test_a_closed_file(tmp_path: Path) -> None:
    file = tmp_path / "site.yaml"
    file.write_text("ohmstead: 1\n", encoding="utf-8")
    file.chmod(0)
    assert "may not be read" in told(file)


def test_a_path_that_cannot_be() -> None:
    assert "cannot be read" in told("site\0.yaml")
    assert "cannot be read" in told("x" * 5000)


def test_a_file_over_five_megabytes(tmp_path: Path) -> None:
    file = tmp_path / "site.yaml"
    file.write_bytes(b"ohmstead: 1\n#" + b"x" * 5_000_000)
    assert "larger than 5 MB" in told(file)
    with pytest.raises(SiteError, match="larger than 5 MB"):
        read_text("ohmstead: 1\n#" + "x" * 5_000_000)


def test_a_large_file_below_the_limit_is_read(tmp_path: Path) -> None:
    file = tmp_path / "site.yaml"
    file.write_bytes(b"ohmstead: 1\n#" + b"x" * 4_900_000)
    assert read_site(file).about.name == "site"


def test_an_endless_file_is_not_read_to_its_end() -> None:
    if not os.path.exists("/dev/zero"):
        pytest.skip("no endless file here")
    assert "larger than 5 MB" in told("/dev/zero")


@pytest.mark.parametrize("mark", ["\x00", "\x08", "\x7f", "\x85", "\u2028", "\ufffe", "\ud800", "\u202e", "\ufeff"])
def test_signs_nobody_sees(mark: str) -> None:
    with pytest.raises(SiteError, match=r"line 2: .*column 14") as fault:
        read_text(f"ohmstead: 1\nsite: {{name: {mark}x}}\n")
    assert mark not in str(fault.value)


@pytest.mark.parametrize("text", ["é", "漢字", "🙂", "\u200d", "½", "\u3000x"])
def test_signs_of_all_scripts_are_welcome(text: str) -> None:
    assert read_text(f"ohmstead: 1\nsite: {{name: a{text}b}}\n").about.name
