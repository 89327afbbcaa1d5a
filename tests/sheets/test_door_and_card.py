"""The door sheet and the service card say what the site says."""

from pathlib import Path

from ohmstead import open as open_site
from ohmstead import study
from ohmstead.sheets import door, service_card
from ohmstead.sheets.buying.fuses import spares
from ohmstead.sheets.document import Caution, Steps, Table, Terms
from ohmstead.sheets.owner.fuses import kept
from ohmstead.tables.reader import rows

EXAMPLES = Path(__file__).parents[2] / "examples"
SKERRY = open_site(EXAMPLES / "skerry" / "skerry-mended.yaml")


def blocks(document, kind):
    return [block for block in document.blocks if isinstance(block, kind)]


def test_switching_off_goes_from_loads_to_the_battery():
    steps = blocks(door.draw(SKERRY, Terms()), Steps)[0].items
    order = [
        next(i for i, step in enumerate(steps) if word in step)
        for word in ("water pump", "panels of sun charger", "Open bank switch", "125 A class T", "Measure")
    ]
    assert order == sorted(order)


def test_without_a_switch_it_says_so():
    text = """ohmstead: 1
battery: {bank: {chemistry: LFP, cells: 4, capacity: 50 Ah}}
parts: {lamp: {kind: device, input: 10..15 V, draws: 5 W}}
runs: [{from: bank, to: lamp, length: 1 m, wire: 1.5 mm2, fuse: 5 A blade, fuse at: 0.1 m}]
"""
    steps = blocks(door.draw(study.from_text(text), Terms()), Steps)[0].items
    assert any("no main switch" in step for step in steps)


def test_every_fuse_stands_on_the_door_with_what_it_darkens():
    table = blocks(door.draw(SKERRY, Terms()), Table)[0]
    assert len(table.rows) == sum(1 for run in SKERRY.site.runs if run.fuse)
    fridge = next(row for row in table.rows if row[0] == "hide block / 1")
    assert fridge[1] == "10 A blade"
    assert fridge[3] == "fridge"
    radio = next(row for row in table.rows if row[0] == "cabinet block / 3")
    assert set(radio[3].split(", ")) == {"router", "ship receiver", "weather mast", "display", "bird radar"}


def test_nothing_above_twenty_volts_with_an_ampere_is_left_out():
    caution = blocks(door.draw(SKERRY, Terms()), Caution)[1]
    told = " ".join(caution.lines)
    for view in SKERRY.evidence.runs:
        arcs = view.own_fuse and view.source_high.value > 20 and view.sustained.value > 1
        if arcs:
            assert (view.feeds or (str(view.run.end),))[0] in told


def test_spares_are_those_of_the_parts_list():
    on_the_door = {row[0]: int(row[2]) for row in blocks(door.draw(SKERRY, Terms()), Table)[1].rows}
    bought = {fuse: n for fuse, n in on_the_door.items() if n > 0}
    for fuse, fitted, n in kept(SKERRY.evidence):
        assert bought[str(fuse)] == n == spares(fuse, fitted)
    assert on_the_door["125 A class T"] == 1
    assert on_the_door["2 A blade"] >= 2


def test_the_card_carries_the_figures_of_the_site():
    text = " ".join(item for block in blocks(service_card.draw(SKERRY, Terms()), Steps) for item in block.items)
    assert "280 Ah (bank)" in text
    assert "low cut opens at 24.4 V and closes at 26.2 V" in text
    assert "east camera, west camera, burrow camera" in text


def test_torque_in_both_units(outside):
    # 1 Nm is 8.85 pound-force inches: any conversion table.
    for row in rows("stud_torque"):
        assert 0 < row["least_nm"] < row["most_nm"]
    outside(
        source="common-practice",
        place="conversion tables",
        read="from memory",
        what="Nm to lb·in",
        deviation=abs(service_card.NM_TO_LBIN - 8.85) / 8.85,
    )
    assert abs(service_card.NM_TO_LBIN - 8.85) < 0.01
    table = blocks(service_card.draw(SKERRY, Terms()), Table)[0]
    m8 = next(row for row in table.rows if row[0] == "M8")
    assert "bank switch" in m8[3]
    assert m8[1] == "8 Nm (71 lb·in)"
