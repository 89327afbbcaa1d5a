"""Network cable and battery chemistries by name."""

import pytest

from ohmstead.parts.cable import read_ethernet_cable
from ohmstead.parts.cell import chemistries, chemistry
from ohmstead.parts.faults import PartError
from ohmstead.parts.yaml_data import part_file
from ohmstead.tables.sources import source


@pytest.mark.parametrize("text, name, gauge, ohm", [
    ("Cat5e 24 AWG", "Cat5e", "24 AWG", 93.8),
    ("Cat5e", "Cat5e", "24 AWG", 93.8),
    ("cat 6 23 AWG solid", "Cat6", "23 AWG", 74.1),
    ("Cat6a S/FTP", "Cat6", "23 AWG", 74.1),
    ("Cat5e CCA", "Cat5e", "24 AWG", 93.8 * 1.65),
    ("Cat5e patch 26 AWG", "Cat5e", "26 AWG", 93.8 * 1.2 * 1.5902),
])  # fmt: skip
def test_network_cable(text, name, gauge, ohm):
    cable = read_ethernet_cable(text)
    assert (cable.name, cable.gauge) == (name, gauge)
    assert cable.conductor_ohm_per_km == pytest.approx(ohm, rel=0.001)
    assert cable.conductor_best_ohm_per_km <= cable.conductor_ohm_per_km


def test_an_assumed_gauge_is_said():
    assert read_ethernet_cable("Cat5e").assumed == ("24 AWG",)
    assert read_ethernet_cable("Cat5e 24 AWG").assumed == ()


@pytest.mark.parametrize("text, problem", [
    ("24 AWG", "'24 AWG' names no category"),
    ("Cat9", "no category 9"),
    ("Cat5e 14 AWG", "14 AWG is no conductor of network cable"),
    ("Cat5e gold", "'gold' says nothing about a network cable"),
])  # fmt: skip
def test_wrong_network_cable(text, problem):
    with pytest.raises(PartError) as fault:
        read_ethernet_cable(text)
    assert fault.value.problem == problem


def test_names_of_chemistries():
    assert set(chemistries()) == {"LFP", "NMC", "lead flooded", "lead AGM"}
    assert chemistry("lfp").name == "LFP"
    assert chemistry("LiFePO4").name == "LFP"


def test_wrong_chemistry():
    with pytest.raises(PartError, match="no chemistry is called 'LPF'") as fault:
        chemistry("LPF")
    assert fault.value.mend == "did you mean lfp?"


@pytest.mark.parametrize("name", chemistries())
def test_a_chemistry_is_whole(name):
    cell = chemistry(name)
    for key in (cell.resting_source, cell.volts_source, cell.resistance_source):
        assert source(key).title
    volts = [v for _, v in cell.resting]
    assert volts == sorted(volts)
    assert (cell.resting[0][0], cell.resting[-1][0]) == (0.0, 1.0)
    assert cell.empty_v < cell.nominal_v < cell.charging_v
    assert cell.full_v <= cell.charging_v <= (cell.equalising_v or cell.charging_v)
    assert cell.least_ohm_ah < cell.usual_ohm_ah < cell.most_ohm_ah
    assert cell.link_least_ohm <= cell.link_usual_ohm <= cell.link_most_ohm
    assert dict(cell.cold)[25.0] == 1.0
    habits = cell.habits
    assert (habits.by_state[0][0], habits.by_state[-1][0]) == (0.0, 1.0)
    assert min(factor for _, factor in habits.by_state) == 1.0
    for points in (habits.cold_capacity, habits.cold_charge, habits.by_hours):
        assert [value for _, value in points] == sorted(value for _, value in points)
    assert habits.cold_capacity[-1] == (25.0, 1.0)
    assert bool(habits.cold_charge) == cell.name.startswith(("LFP", "NMC")) != bool(habits.by_hours)
    assert not habits.by_hours or habits.by_hours[-1] == (20.0, 1.0)
    for block in part_file("cells", cell.name.replace(" ", "-")).values():
        if isinstance(block, dict) and "source" in block:
            assert source(block["source"]).title
            assert block["read"] in ("original", "second-hand", "from memory")


def test_lead_loses_about_one_per_cent_of_capacity_with_each_kelvin(outside):
    """The sizing factors of the standard against the rule of the trade, from 0 to 25 °C."""
    for name in ("lead AGM", "lead flooded"):
        points = [(t, share) for t, share in chemistry(name).habits.cold_capacity if -2 < t <= 25]
        (low, least), (high, most) = points[0], points[-1]
        slope = (most - least) / (high - low)
        outside(source="common-practice", read="common practice", what="capacity of lead lost with each kelvin of cold",
                deviation=slope / 0.01 - 1)  # fmt: skip
        assert slope == pytest.approx(0.01, rel=0.3)
