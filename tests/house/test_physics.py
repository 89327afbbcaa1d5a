"""Docstrings of physics functions agree with their signatures, and floats carry a unit in their name."""

import ast
from pathlib import Path

import pytest

from house import physics, vocabulary
from house.modules import read_package, write_package

GOOD = '''
def heat_w(current_a, resistance_ohm):
    """Heat in a wire.

    Parameters
    ----------
    current_a : float or array
        Steady current. [A]
    resistance_ohm : float
        Of the loop. [Ω]

    Returns
    -------
    float
        Both wires together. [W]

    Source
    ------
    iec-60287, 1.4.1

    Examples
    --------
    >>> heat_w(2.0, 0.5)
    2.0
    """
    return current_a**2 * resistance_ohm
'''
SPOILT = {
    "no section Source": GOOD.replace("Source\n    ------", "Origin\n    ------"),
    "documents current_a, loop_ohm; takes current_a, resistance_ohm": GOOD.replace(
        "    resistance_ohm : float", "    loop_ohm : float"
    ),
    "current_a is given in [mA]": GOOD.replace("[A]", "[mA]"),
    "resistance_ohm has no [unit]": GOOD.replace(" [Ω]", ""),
    "heat_w has no [unit]": GOOD.replace(" [W]", ""),
    "the example cannot run": GOOD.replace(">>>", "..."),
}


def function(text: str) -> ast.FunctionDef:
    node = ast.parse(text).body[0]
    assert isinstance(node, ast.FunctionDef)
    return node


def test_physics_docstrings_keep_the_contract() -> None:
    assert physics.docstring_faults(read_package()) == []


def test_floats_carry_their_unit_in_the_name() -> None:
    assert physics.nameless_units(read_package()) == []


def test_a_good_docstring_passes() -> None:
    assert physics.contract_faults(function(GOOD)) == []


@pytest.mark.parametrize("fault", SPOILT)
def test_a_spoilt_docstring_is_told(fault: str) -> None:
    assert SPOILT[fault] != GOOD
    assert fault in physics.contract_faults(function(SPOILT[fault]))


def test_only_physics_in_physics_rooms_is_judged(tmp_path: Path) -> None:
    bare = "def f(length_m):\n    ...\ndef family(name):\n    ...\ndef _g(length_m):\n    ...\n"
    package = write_package(tmp_path, {"wiring/a.py": bare, "site/b.py": bare})
    assert {fault.split(": ")[0] for fault in physics.docstring_faults(package)} == {"ohmstead.wiring.a:1 f"}


def test_the_longest_ending_counts() -> None:
    assert vocabulary.ending("resistance_20_ohm_per_km") == "_ohm_per_km"
    assert vocabulary.ending("heat_a2s") == "_a2s"
    assert vocabulary.ending("name") == ""


def test_a_float_without_unit_is_found(tmp_path: Path) -> None:
    text = "class A:\n    length: float\n    size_mm2: float | None = None\ndef f(factor: float, x: int): ...\n"
    faults = physics.nameless_units(write_package(tmp_path, {"site/a.py": text}))
    assert faults == ["ohmstead.site.a:1 A: length has no unit in docs/names.md"]
