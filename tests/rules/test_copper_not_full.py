"""What SAE gauge and copper-clad aluminium are worth in copper."""

from ohmstead.evidence.finding import Severity
from ohmstead.rules import copper_not_full, wire_size_ambiguous
from rules.made_supply import run, supply


def found(view, **more):
    return list(copper_not_full.check(supply((view,), **more)))


def test_eight_gauge_sae_has_twelve_per_cent_less():
    # Circular mils as printed in a marine wire appendix, second-hand: 14810 of SAE against 16800 of AWG.
    (told,) = found(run("bank", "lamps", "8 gauge SAE"))
    assert told.severity is Severity.TIGHT
    # 8 AWG is 16509 circular mils before rounding.
    assert abs(told.numbers["share"].value - (1 - 14810 / 16509)) < 0.002
    assert "8.37 mm²" in told.mend


def test_clad_wire_is_named_by_the_copper_it_equals():
    # 1.65 times the resistance of copper, from memory: 16 mm² conducts like 9.7 mm².
    (told,) = found(run("bank", "lamps", "16 mm2 CCA"))
    assert told.severity is Severity.TIGHT and "9.7 mm²" in told.message


def test_copper_and_an_unclear_size_stay_silent_here():
    assert found(run("bank", "lamps", "2.5 mm2")) == []
    assert found(run("bank", "lamps", "2.5 mm2 tinned")) == []
    unclear = run("bank", "lamps", "8 gauge")
    assert found(unclear) == []
    (told,) = wire_size_ambiguous.check(supply((unclear,)))
    assert "SAE" in told.message and "AWG" in told.message


def test_it_is_told_when_full_copper_would_hold_and_only_then():
    # 2.5 mm² PVC in trunking: 24 A of copper, 24/√1.65 = 18.7 A of clad wire.
    (told,) = found(run("bank", "lamps", "2.5 mm2 CCA", 0.5, amps=21.0))
    assert told.severity is Severity.TIGHT and "overloaded" in told.message  # cable-overloaded condemns it
    (hopeless,) = found(run("bank", "lamps", "2.5 mm2 CCA", 0.5, amps=30.0))
    assert "overloaded" not in hopeless.message  # copper would not bear it either


def test_it_is_told_when_only_full_copper_keeps_the_drop():
    # 2.5 mm² out and back over 8 m at 6 A: 0.86 V of copper, 1.42 V of clad wire; 5 % of 25.6 V are 1.28 V.
    (told,) = found(run("bank", "lamps", "2.5 mm2 CCA", 8.0, amps=6.0))
    assert told.severity is Severity.TIGHT and "loses 1.42 V" in told.message
