"""The wire that a finding names mends it, and is at most one size thicker than need be.

Constant-power loads take less current when more voltage reaches them; the cure counts the present current and so
stays on the safe side.
"""

import re

import pytest

from ohmstead import study
from ohmstead.parts.wire import standard_sizes
from ohmstead.rules.catalogue import example

CASES = {
    "cable-overloaded": "2.5 mm2 PVC",
    "drop-on-path": "1.5 mm2",
    "drop-on-run": "length: 8 m, wire: 4 mm2",
    "voltage-too-low": "length: 7 m, wire: 2.5 mm2",
}

BESIDES = {"cable-overloaded": "fuse-over-cable"}


def spoken(slug: str, old: str, size: str) -> list[str]:
    new = re.sub(r"[\d.]+ mm2", size, old)
    text = example(slug, "Fails")
    assert text.count(old) == 1
    found = study.from_text(text.replace(old, new), "skerry.yaml").findings
    # A wire for an overloaded run has to suit the fuse before it too.
    own = [finding for finding in found if finding.rule in {slug, BESIDES.get(slug)}]
    return [finding.mend for finding in own if slug.startswith("drop") or finding.severity != "tight"]


@pytest.mark.parametrize("slug", CASES)
def test_named_wire_holds_and_is_not_lavish(slug: str) -> None:
    old = CASES[slug]
    (mend,) = spoken(slug, old, re.search(r"[\d.]+ mm2", old)[0])
    named = re.search(r"lay ([\d.]+) mm²", mend)[1] + " mm2"
    sizes = standard_sizes("mm2")
    assert spoken(slug, old, named) == []
    steps = 1 if slug == "cable-overloaded" else 2
    assert spoken(slug, old, sizes[sizes.index(named) - steps]) != []
