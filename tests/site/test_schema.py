"""The published schema agrees with the reader on what may be written."""

import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from ohmstead.site.boxes import Cabinet, CabinetFan, CabinetFilter
from ohmstead.site.compose import compose
from ohmstead.site.declare import declared
from ohmstead.site.examples import example
from ohmstead.site.kinds import KINDS
from ohmstead.site.model import About, Acceptance, Battery, Run, Zone
from ohmstead.site.nodes import Mapping, Node, Scalar, Sequence
from ohmstead.site.plans import plan
from ohmstead.site.plates import Entry, Mount, Plate
from ohmstead.site.problems import SiteError
from ohmstead.site.read import read_text
from ohmstead.site.schema import site_schema
from ohmstead.site.sky import Array, Goal, Horizon, Obstacle, Weather

SKY = (Weather, Array, Horizon, Obstacle, Goal, Cabinet, CabinetFan, CabinetFilter)
INDOORS = (Plate, Entry, Mount)
HERE = Path(__file__).parent
COMMITTED = HERE.parents[1] / "docs" / "site-file.schema.json"
EXAMPLES = HERE.parents[1] / "examples"
FULL = (HERE / "full.yaml").read_text(encoding="utf-8")


def as_editors_see_it(node: Node | None) -> Any:
    """The file as YAML 1.2 reads it: plain numbers are numbers, and `off` is a word."""
    if isinstance(node, Mapping):
        return {name: as_editors_see_it(value) for name, (_, value) in node.entries.items()}
    if isinstance(node, Sequence):
        return [as_editors_see_it(item) for item in node.items]
    assert isinstance(node, Scalar)
    if node.style != "plain":
        return node.text
    if re.fullmatch(r"[-+]?[0-9]+", node.text):
        return int(node.text)
    if re.fullmatch(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", node.text):
        return float(node.text)
    return {"": None, "~": None, "null": None, "true": True, "false": False}.get(node.text, node.text)


def faults(text: str) -> list[str]:
    root, _ = compose(text, "site.yaml")
    found = jsonschema.Draft202012Validator(site_schema()).iter_errors(as_editors_see_it(root))
    return [error.message for error in found]


def test_the_committed_schema_is_in_step() -> None:
    assert json.loads(COMMITTED.read_text(encoding="utf-8")) == json.loads(json.dumps(site_schema()))


def test_it_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(site_schema())


def test_every_key_of_the_model_has_a_line() -> None:
    known = site_schema()["$defs"]
    for cls in (About, Zone, Battery, Run, Acceptance, *SKY):
        assert set(known[cls.__name__.lower()]["properties"]) == {f.key for f in declared(cls).values()}
    for cls in INDOORS:
        held = {"entries", "parts"} if cls is Plate else set()
        assert set(known[cls.__name__.lower()]["properties"]) == {f.key for f in declared(cls).values()} | held
    for kind, cls in KINDS.items():
        keys = {f.key for f in declared(cls).values()}
        assert set(known[kind.replace(" ", "-")]["properties"]) == keys | {"kind"}


def test_a_file_with_every_key_passes() -> None:
    assert faults(FULL) == []
    read_text(FULL)


SMALL = """ohmstead: 1
zones: {hide: {air: 2..27 °C}}
battery: {bank: {chemistry: LFP, cells: 4, capacity: 100 Ah, zone: hide}}
parts:
  block: {kind: distribution, ways: 4}
  lamp: {kind: device, input: 10..15 V, draws: 18 W}
runs:
  - {from: bank, to: block, length: 1.6 m, wire: choose, fuse: choose}
  - {from: block / 1, to: lamp, length: 3 m, wire: 2.5 mm2, fuse: 5 A blade}
"""


def test_a_small_file_passes() -> None:
    assert faults(SMALL) == []
    read_text(SMALL)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("ohmstead: 1", "ohmstead: 2"),
        ("ohmstead: 1", "# nothing"),
        ("zones:", "zone:"),
        ("air: 2..27 °C", "air: hot"),
        ("chemistry: LFP", "chemistry: LPF"),
        ("cells: 4, ", ""),
        ("cells: 4", "cells: four"),
        ("capacity: 100 Ah", "capacity: 100"),
        ("capacity: 100 Ah", "capacity: 100 A"),
        ("kind: distribution", "kind: fuse block"),
        ("ways: 4", "ways: 0"),
        ("ways: 4", "way: 4"),
        ("draws: 18 W", "draw: 18 W"),
        ("draws: 18 W", "draws: 18"),
        ("draws: 18 W", "draws: {}"),
        ("input: 10..15 V", "input: 10..15"),
        ("input: 10..15 V", "inputs: 10..15 V"),
        ("length: 1.6 m", "length: 1.6"),
        ("length: 1.6 m", "lenght: 1.6 m"),
        ("length: 1.6 m", "length: choose"),
        ("wire: choose, ", ""),
        ("wire: choose", "wire: choose, cable: Cat5e"),
        ("from: bank, ", ""),
        ("  block:", "  block / 1:"),
    ],
)
def test_slips_are_seen_by_schema_and_reader_alike(old: str, new: str) -> None:
    spoilt = SMALL.replace(old, new, 1)
    assert spoilt != SMALL
    assert faults(spoilt)
    with pytest.raises(SiteError):
        read_text(spoilt)


@pytest.mark.parametrize("cls", [About, Zone, Battery, Run, Acceptance, *SKY, *INDOORS, *KINDS.values()])
def test_every_example_is_good_in_its_place(cls: type) -> None:
    """Messages, docs and editors offer the examples, so the reader must take each of them."""
    for key, entry in plan(cls).items():
        root, _ = compose(f"{{{key}: {example(entry.field)}}}", "site.yaml")
        assert isinstance(root, Mapping)
        entry.read(root.entries[key][1], key, entry.field)


@pytest.mark.parametrize("file", sorted(EXAMPLES.rglob("*.yaml")), ids=lambda file: file.name)
def test_the_example_sites_pass(file: Path) -> None:
    assert faults(file.read_text(encoding="utf-8")) == []
