"""The plan of the house holds: order of rooms, no circle, no name that says nothing."""

from pathlib import Path

from house import rooms
from house.modules import read_package, write_package


def test_a_room_imports_only_from_rooms_above_it() -> None:
    assert rooms.order_faults(read_package()) == []


def test_no_module_imports_in_a_circle() -> None:
    assert rooms.cycles(read_package()) == []


def test_every_module_is_named_after_what_it_is_about() -> None:
    assert rooms.name_faults(read_package()) == []


def test_the_order_is_seen_in_every_form_of_import(tmp_path: Path) -> None:
    package = write_package(
        tmp_path,
        {
            "__init__.py": "def open(path):\n    from ohmstead.study import Study\n",
            "study.py": "from ohmstead.rules import run\n",
            "quantity/__init__.py": "",
            "quantity/up.py": "import ohmstead.network\n",
            "wiring/down.py": "from ohmstead import network\n",
            "network/__init__.py": "def late():\n    from ..rules import run\n",
            "rules/__init__.py": "from ohmstead.quantity.up import x\nfrom .one import y\n",
            "rules/one.py": "from ohmstead import __version__\n",
            "cli/__init__.py": "from ohmstead import __version__\n",
            "attic/__init__.py": "",
        },
    )
    assert rooms.order_faults(package) == [
        "ohmstead.attic: no room of this name in the plan",
        "ohmstead.network:2 imports ohmstead.rules",
        "ohmstead.quantity.up:1 imports ohmstead.network",
        "ohmstead.rules.one:1 imports ohmstead",
        "ohmstead.wiring.down:1 imports ohmstead.network",
    ]


def test_a_circle_is_found_once_and_a_star_is_none(tmp_path: Path) -> None:
    package = write_package(
        tmp_path,
        {
            "site/a.py": "from .b import x\n",
            "site/b.py": "from ohmstead.site import c\n",
            "site/c.py": "def f():\n    from .a import x\n",
            "site/d.py": "from .a import x\nfrom .b import y\n",
        },
    )
    assert rooms.cycles(package) == ["ohmstead.site.a -> ohmstead.site.b -> ohmstead.site.c -> ohmstead.site.a"]


def test_empty_names_are_found(tmp_path: Path) -> None:
    package = write_package(tmp_path, {"site/utils.py": "", "core/__init__.py": "", "site/place.py": ""})
    assert len(rooms.name_faults(package)) == 2
