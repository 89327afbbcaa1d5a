"""A cold check imports nothing heavy."""

import re
import subprocess
import sys

import pytest

from house.modules import ROOT

HEAVY = {
    "numpy", "scipy", "numba", "pandas", "pint", "pvlib", "ruamel", "jsonschema", "pydantic", "matplotlib",
    "dask", "typing_extensions", "fastapi", "highspy", "typst", "openpyxl", "xlsxwriter", "ezdxf", "segno", "pypdf",
    "ortools", "networkx", "shapely",
}  # fmt: skip
# Slow parts of the standard library which the path can do without.
SLOW = {"importlib.resources", "tomllib", "asyncio", "unittest", "multiprocessing", "sqlite3"}
SITE = "examples/skerry/skerry.yaml"


def imported(*arguments: str) -> tuple[set[str], subprocess.CompletedProcess[str]]:
    """Every module that a fresh interpreter imports while it runs the arguments."""
    done = subprocess.run(
        [sys.executable, "-X", "utf8", "-X", "importtime", *arguments],
        cwd=ROOT, capture_output=True, text=True, encoding="utf-8", check=False, timeout=120,
        env={"PYTHONPATH": str(ROOT / "src"), "PATH": "", "NO_COLOR": "1"},
    )  # fmt: skip
    return set(re.findall(r"^import time:.*\| +(\S+)$", done.stderr, re.M)), done


def met(names: set[str], unwanted: set[str]) -> set[str]:
    return {u for u in unwanted for n in names if n == u or n.startswith(u + ".")}


@pytest.fixture(scope="module")
def check() -> tuple[set[str], subprocess.CompletedProcess[str]]:
    return imported("-m", "ohmstead", "check", SITE)


def test_check_does_its_work(check: tuple[set[str], subprocess.CompletedProcess[str]]) -> None:
    names, done = check
    assert done.returncode in (0, 1), done.stderr[-2000:]
    assert {"yaml", "ohmstead.rules", "ohmstead.network"} <= names


def test_check_imports_nothing_heavy(check: tuple[set[str], subprocess.CompletedProcess[str]]) -> None:
    assert met(check[0], HEAVY) == set()


def test_check_imports_nothing_slow_of_the_standard_library(
    check: tuple[set[str], subprocess.CompletedProcess[str]],
) -> None:
    assert met(check[0], SLOW) == set()


def test_an_import_is_seen() -> None:
    names, _ = imported("-c", "import inspect, json.decoder")
    assert met(names, {"inspect", "json", "numpy"}) == {"inspect", "json"}
