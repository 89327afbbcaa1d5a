"""Ends of wires from a builder's words, and what goes onto what."""

import pytest

from ohmstead.parts.faults import PartError
from ohmstead.parts.plug import mates, read_end, tab_rating_a, takes_wire
from ohmstead.parts.yaml_data import part_file, part_names
from ohmstead.tables.sources import source


@pytest.mark.parametrize("text, kind, size, polarity", [
    ("barrel 5.5x2.1 centre positive", "barrel", "5.5x2.1", "centre positive"),
    ("barrel 5.5 x 2.5 mm", "barrel", "5.5x2.5", None),
    ("barrel 5.5/2.1 center negative", "barrel", "5.5x2.1", "centre negative"),
    ("tip + barrel 5.5x2.1", "barrel", "5.5x2.1", "centre positive"),
    ("DC jack 5.5×2.5", "barrel", "5.5x2.5", None),
    ("EIAJ-02", "barrel", "4.0x1.7", None),
    ("EIAJ 5 plug centre positive", "barrel", "6.5x4.4", "centre positive"),
    ("ring M8", "ring", "M8", None),
    ("ring 8 mm", "ring", "M8", None),
    ("lug M10 35 mm2", "ring", "M10", None),
    ("stud M8", "stud", "M8", None),
    ("ferrule", "ferrule", "any", None),
    ("tab 6.3", "tab", "6.3", None),
    ("bullet 3.5", "bullet", "3.5", None),
    ("XT60", "bullet", "3.5", None),
    ("bullet pair 4.5 mm", "bullet", "4.5", None),
    ("PV 4 mm2", "pv", "4", None),
    ("screw terminal", "screw", "any", None),
    ("screw 2.5 mm2", "screw", "2.5", None),
    ("RJ45", "rj45", "any", None),
    ("USB-C", "usb-c", "any", None),
    ("vehicle socket", "vehicle-socket", "any", None),
    ("butt splice blue", "butt", "blue", None),
    ("soldered", "bare", "any", None),
])  # fmt: skip
def test_names(text, kind, size, polarity):
    end = read_end(text)
    assert (end.kind, end.size, end.polarity) == (kind, size, polarity)
    assert end.text == text
    assert source(end.source).title


@pytest.mark.parametrize("text, problem, mend", [
    ("barrel", "the size of the barrel is missing", "write barrel 5.5x2.1"),
    ("barrel 9x9", "no barrel has the size 9x9", "measure it again"),
    ("tab 5", "no tab has the size 5", "measure it again"),
    ("rng M8", "no end is called 'rng m8'", "did you mean ring?"),
    ("wool", "no end is called 'wool'", "name its shape"),
    ("", "no end is called ''", "name its shape"),
    ("ring M8 centre positive", "a ring terminal has no centre", "leave out the polarity"),
    ("ring M8 gold", "'gold' says nothing about a ring terminal", "leave out 'gold'"),
])  # fmt: skip
def test_wrong_text(text, problem, mend):
    with pytest.raises(PartError) as fault:
        read_end(text)
    assert fault.value.problem == problem
    assert fault.value.mend == mend


@pytest.mark.parametrize("a, b, said", [
    ("barrel 5.5x2.1", "barrel 5.5x2.1 centre positive", ""),
    ("barrel 5.5x2.1 centre negative", "barrel 5.5x2.1 centre positive", "the plug is centre negative"),
    ("barrel 5.5x2.5", "barrel 5.5x2.1", "sits loose on the 2.1 mm pin"),
    ("barrel 5.5x2.1", "barrel 5.5x2.5", "does not go over the 2.5 mm pin"),
    ("barrel 4.0x1.7", "EIAJ 02", ""),
    ("barrel 4.0x1.7", "barrel 5.5x2.1", "4 mm outside"),
    ("ring M8", "stud M8", ""),
    ("ring M6", "stud M8", "does not go over"),
    ("ring M10", "stud M8", "sits loose"),
    ("stud M8", "ring M8", ""),
    ("ferrule", "screw 4 mm2", ""),
    ("bare", "screw terminal", ""),
    ("ferrule", "stud M8", "does not go onto"),
    ("tab 6.3", "tab 4.8", "does not fit"),
    ("bullet 3.5", "XT60", ""),
    ("bullet 3.5", "bullet 4.5", "does not fit"),
    ("RJ45", "barrel 5.5x2.1", "does not go onto"),
])  # fmt: skip
def test_mates(a, b, said):
    reason = mates(read_end(a), read_end(b))
    assert said in reason
    assert bool(reason) == bool(said)


@pytest.mark.parametrize("end, area, said", [
    ("ring M8", 35.0, ""), ("ring M5", 70.0, "at most 16 mm²"), ("ring M10 35 mm2", 16.0, "at least 35 mm²"),
    ("ferrule 2.5 mm2", 2.5, ""), ("ferrule 2.5 mm2", 6.0, "at most 2.5 mm²"), ("tab 6.3", 10.0, "at most 6 mm²"),
    ("PV 6 mm2", 4.0, "at least 6 mm²"), ("PV 4 mm2", 4.0, ""), ("barrel 5.5x2.1", 10.0, ""),
])  # fmt: skip
def test_takes_wire(end, area, said):
    reason = takes_wire(read_end(end), area)
    assert said in reason
    assert bool(reason) == bool(said)


def test_wide_tab_keeps_its_rating():
    assert tab_rating_a(read_end("tab 9.5"), 6.0) == 40


@pytest.mark.parametrize("kind", part_names("plugs"))
def test_every_size_is_whole(kind):
    data = part_file("plugs", kind)
    for size, entry in data["sizes"].items():
        text = data["words"][0] + ("" if size == "any" else f" {size}")
        if kind in ("pv", "screw") and size != "any":
            text += " mm2"
        end = read_end(text)
        assert end.contact_ohm == pytest.approx(entry["contact_mohm"] * 1e-3)
        assert end.read in ("original", "second-hand", "from memory")
        if end.wire_least_mm2 is not None:
            assert end.wire_least_mm2 <= end.wire_most_mm2
