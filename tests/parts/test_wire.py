"""Wire from a builder's words."""

import pytest

from ohmstead.parts.faults import PartError
from ohmstead.parts.wire import like_wire, next_larger, read_wire, standard_sizes


@pytest.mark.parametrize("text, system, area, ohm", [
    ("2.5 mm2", "mm2", 2.5, 7.98),
    ("2.5mm²", "mm2", 2.5, 7.98),
    ("2.5 mm² class 2", "mm2", 2.5, 7.41),
    ("solid 2.5 mm2", "mm2", 2.5, 7.41),
    ("16 mm2 tinned XLPE 90 °C", "mm2", 16.0, 1.24),
    ("XLPE tinned 90 C 16 mm^2", "mm2", 16.0, 1.24),
    ("6 mm2 vehicle", "vehicle", 6.0, 3.14),
    ("0.34 mm2", "mm2", 0.34, 53.0),
    ("10 AWG solid", "AWG", 5.261, 3.277),
    ("AWG 10 solid", "AWG", 5.261, 3.277),
    ("#10 AWG solid", "AWG", 5.261, 3.277),
    ("2/0 AWG 105 °C", "AWG", 67.43, 0.2609),
    ("24 AWG solid", "AWG", 0.2047, 84.2),
])  # fmt: skip
def test_sizes(text, system, area, ohm):
    wire = read_wire(text)
    assert wire.system == system
    assert wire.area_mm2 == pytest.approx(area, rel=0.001)
    assert wire.resistance_20_ohm_per_km == pytest.approx(ohm, rel=0.001)


@pytest.mark.parametrize("text, name, limit", [
    ("2.5 mm2", "PVC", 70), ("2.5 mm2 XLPE", "XLPE", 90), ("2.5 mm2 105 °C", "insulation", 105),
    ("2.5 mm2 PVC 105 °C", "PVC", 105), 
    ("4 mm2 PV cable", "cross-linked PV cable", 90), ("35 mm2 boat", "boat cable", 105),
    ("1.5 mm2 silicone", "silicone rubber", 180), ("6 mm2 rubber", "rubber", 60),
])  # fmt: skip
def test_insulation(text, name, limit):
    wire = read_wire(text)
    assert (wire.insulation, wire.insulation_c) == (name, limit)
    assert wire.fault_c > wire.insulation_c


@pytest.mark.parametrize("text, assumed", [
    ("2.5 mm2", ("PVC 70 °C", "class 5, flexible")),
    ("2.5 mm2 class 5 XLPE", ()),
    ("10 AWG", ("PVC 70 °C", "stranded")),
    ("6 mm2 vehicle", ("PVC 70 °C",)),
])  # fmt: skip
def test_what_was_assumed_is_said(text, assumed):
    assert read_wire(text).assumed == assumed


def test_a_size_off_the_table_is_said_and_pessimistic():
    wire = read_wire("3 mm2")
    assert "no standard size" in wire.assumed[-1]
    assert read_wire("4 mm2").resistance_20_ohm_per_km < wire.resistance_20_ohm_per_km
    assert wire.resistance_20_ohm_per_km < read_wire("2.5 mm2").resistance_20_ohm_per_km


@pytest.mark.parametrize("text, counted, words", [
    ("6 mm", 4.6, "6 mm may be the outer diameter of vehicle cable (4.6 mm² of copper) or 6 mm²"),
    ("6 mm auto", 4.6, "counted as 4.6 mm²"),
    ("8 gauge", 7.504, "8 gauge may be AWG (8.37 mm²) or the thinner SAE cable (7.5 mm²)"),
    ("8 ga", 7.504, "counted as SAE"),
])  # fmt: skip
def test_two_readings_take_the_thinner(text, counted, words):
    wire = read_wire(text)
    assert wire.area_mm2 == pytest.approx(counted, rel=0.001)
    assert words in wire.ambiguous


@pytest.mark.parametrize("text", ["8 AWG", "8 gauge SAE", "8 gauge auto", "6 mm2 auto", "20 gauge"])
def test_one_reading_is_not_called_unclear(text):
    assert read_wire(text).ambiguous == ""


def test_copper_clad_aluminium_has_more_resistance():
    copper, clad = read_wire("10 AWG"), read_wire("10 AWG CCA")
    assert clad.metal == "copper-clad aluminium"
    assert 1.5 < clad.resistance_20_ohm_per_km / copper.resistance_20_ohm_per_km < 1.6501
    assert read_wire("10 AWG copper-clad aluminium").metal == clad.metal
    assert read_wire("10 AWG aluminium").metal == "aluminium"


@pytest.mark.parametrize(
    "text", ["2.5 mm2", "10 AWG", "8 gauge SAE", "6 mm2 vehicle", "50 mm2", "24 AWG solid", "10 AWG CCA"]
)
def test_best_is_never_worse_than_worst(text):
    wire = read_wire(text)
    assert 0 < wire.resistance_20_best_ohm_per_km <= wire.resistance_20_ohm_per_km


@pytest.mark.parametrize("text, problem, mend", [
    ("2.5", "the size 2.5 has no unit", "write 2.5 mm2"),
    ("10", "the size 10 has no unit", "write 10 mm2 or 10 AWG"),
    ("2,5 mm2", "'2,5 mm2' has a comma inside a number", "write a decimal point: 2.5 mm2"),
    ("10 mm", "10 mm is a diameter, not a cross-section", "write 10 mm2"),
    ("300 AWG", "there is no gauge 300", "2/0 is written with its zero"),
    ("2.5 mm2 tined", "'tined' says nothing about a wire", "did you mean tinned?"),
    ("2.5 mm2 wool", "'wool' says nothing about a wire", "leave out 'wool'"),
    ("2.5 mm2 class 9", "there is no conductor class 9", "class 5 is flexible wire"),
    ("thick", "'thick' names no wire size", "start with the size, such as 2.5 mm2"),
    ("", "'' names no wire size", "start with the size, such as 2.5 mm2"),
    ("2500 mm2", "2500 mm2 is no size of wire", "check the number and the unit"),
    ("2.5 mm2 700 °C", "700 °C is no temperature class of insulation", "PVC is 70 °C"),
    ("20 gauge SAE", "no area is known for SAE gauge 20", "state the cross-section in mm2"),
])  # fmt: skip
def test_wrong_text(text, problem, mend):
    with pytest.raises(PartError) as fault:
        read_wire(text)
    assert fault.value.problem == problem
    assert fault.value.mend == mend
    assert fault.value.expected


@pytest.mark.parametrize("system", ["mm2", "AWG", "SAE", "vehicle"])
def test_standard_sizes_read_back_and_rise(system):
    wires = [read_wire(text) for text in standard_sizes(system)]
    assert all(wire.system == system for wire in wires)
    areas = [wire.area_mm2 for wire in wires]
    assert areas == sorted(areas)
    for wire, larger in zip(wires, wires[1:], strict=False):
        assert next_larger(wire).size == larger.size
    assert next_larger(wires[-1]) is None


def test_unknown_system():
    with pytest.raises(PartError, match="no system of wire sizes"):
        standard_sizes("BWG")


def test_a_larger_wire_keeps_metal_and_insulation():
    larger = next_larger(read_wire("10 mm2 tinned XLPE class 2"))
    assert (larger.size, larger.metal, larger.insulation_c, larger.strand_class) == (
        "16 mm2",
        "tinned copper",
        90,
        "class 2",
    )
    assert read_wire(larger.designation).resistance_20_ohm_per_km > 0
    assert like_wire(read_wire("10 AWG CCA"), "6 AWG").metal == "copper-clad aluminium"
