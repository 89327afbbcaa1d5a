"""The `outside` fixture and the oracle markers, tried on a small suite of their own."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from house.modules import ROOT

SUITE = """
import pytest

@pytest.mark.parametrize("n", [1, 2])
def test_figure(outside, n):
    outside(source="a-book", place="table 1", read="second-hand", what="a figure", deviation=n / 1000)

def test_wrong(outside):
    outside(source="python", read="program", what="a failing check")
    assert {wrong!r} == "right"

@pytest.mark.needs_ngspice
def test_oracle(outside):
    outside(source="ngspice", read="program", what="a node voltage", deviation=1e-4)
"""


def run(folder: Path, *arguments: str, ci: str = "", wrong: str = "right") -> subprocess.CompletedProcess[str]:
    """Run the small suite where no program is on the path."""
    tests = folder / "tests"
    if not tests.exists():
        (tests / "house").mkdir(parents=True)
        (folder / "docs").mkdir()
        shutil.copy(ROOT / "tests" / "conftest.py", tests)
        shutil.copy(ROOT / "tests" / "house" / "trust.py", tests / "house")
        shutil.copy(ROOT / "pyproject.toml", folder)
        tables = folder / "src" / "ohmstead" / "tables"
        tables.mkdir(parents=True)
        (tables / "sources.toml").write_text('[a-book]\ntitle = "A book"\n', encoding="utf-8")
    (tests / "test_small.py").write_text(SUITE.format(wrong=wrong), encoding="utf-8")
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", *arguments],
        cwd=folder, env={"PATH": "", "CI": ci, "PYTHONUTF8": "1"},
        capture_output=True, text=True, encoding="utf-8", check=False, timeout=120,
    )  # fmt: skip


def test_records_reach_the_page_through_parallel_workers(tmp_path: Path) -> None:
    written = run(tmp_path, "-n", "2", "--trust", "write")
    assert written.returncode == 0, written.stdout
    page = (tmp_path / "docs" / "trust.md").read_text(encoding="utf-8")
    assert "| A book (`a-book`) | table 1 | a figure | 0.2 % | `test_small.py::test_figure` |" in page
    assert "a failing check" in page
    assert run(tmp_path, "--trust", "check").returncode == 0


def test_a_page_out_of_step_fails_the_run(tmp_path: Path) -> None:
    run(tmp_path, "--trust", "write")
    page = tmp_path / "docs" / "trust.md"
    page.write_text(page.read_text(encoding="utf-8").replace("table 1", "table 2"), encoding="utf-8")
    checked = run(tmp_path, "--trust", "check")
    assert checked.returncode == 1
    assert "lacks: a-book, table 1: a figure" in checked.stdout


def test_a_failing_check_leaves_no_record(tmp_path: Path) -> None:
    assert run(tmp_path, "--trust", "write", wrong="wrong").returncode == 1
    assert "a failing check" not in (tmp_path / "docs" / "trust.md").read_text(encoding="utf-8")


def test_an_unknown_source_fails_the_run(tmp_path: Path) -> None:
    run(tmp_path, "--trust", "write")
    (tmp_path / "src" / "ohmstead" / "tables" / "sources.toml").write_text("", encoding="utf-8")
    checked = run(tmp_path, "--trust", "check")
    assert checked.returncode == 1
    assert "source 'a-book' is neither" in checked.stdout


def test_a_missing_oracle_is_skipped_by_name_but_fails_in_ci(tmp_path: Path) -> None:
    at_home = run(tmp_path, "-rs")
    assert at_home.returncode == 0
    assert "the program ngspice is not installed" in at_home.stdout
    in_ci = run(tmp_path, ci="true")
    assert in_ci.returncode == 1
    assert "CI may not run without it" in in_ci.stdout


def test_the_page_is_only_settled_by_a_whole_run(tmp_path: Path) -> None:
    refused = run(tmp_path, "--trust", "write", "tests/test_small.py")
    assert refused.returncode == pytest.ExitCode.USAGE_ERROR
    assert "needs the whole suite" in refused.stderr
