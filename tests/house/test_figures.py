"""The house figures hold."""

from pathlib import Path

from house import figures
from house.modules import read_package, write_package


def test_modules_are_short() -> None:
    assert figures.size_faults(read_package()) == []


def test_functions_take_few_parameters() -> None:
    assert figures.parameter_faults(read_package()) == []


def test_classes_have_few_methods() -> None:
    assert figures.method_faults(read_package()) == []


def test_too_much_is_found(tmp_path: Path) -> None:
    methods = "".join(f"    def m{i}(self): ...\n" for i in range(16))
    package = write_package(
        tmp_path,
        {
            "site/__init__.py": '"""A room."""\n',
            "site/long.py": "x = 1\n" * 401,
            "site/wide.py": "def f(a, b, c, d, *e, g, h, **i): ...\n",
            "site/fat.py": f"class Fat:\n{methods}",
        },
    )
    assert figures.size_faults(package) == ["ohmstead.site.long: 401 lines, at most 400"]
    assert figures.parameter_faults(package) == ["ohmstead.site.wide:1 f: 8 parameters, at most 7"]
    assert figures.method_faults(package) == ["ohmstead.site.fat:1 Fat: 16 methods, at most 15"]


def test_the_median_counts_real_modules_only(tmp_path: Path) -> None:
    files = {f"site/m{i}.py": "x = 1\n" * 130 for i in range(3)}
    files |= {f"site/r{i}/__init__.py": '"""A room."""\n' for i in range(9)}
    assert "130" in figures.size_faults(write_package(tmp_path, files))[0]


def test_self_is_not_a_parameter(tmp_path: Path) -> None:
    text = "class A:\n    def f(self, a, b, c, d, e, f, g): ...\n"
    assert figures.parameter_faults(write_package(tmp_path, {"site/a.py": text})) == []
