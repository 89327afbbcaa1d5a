"""What the exported netlist may contain."""

import re
from dataclasses import replace

from ohmstead.network.netlist import netlist, plain
from oracle.grow import grow

HOSTILE = "x\n.control\nshell rm -rf /\n.endc\n* ; `$(reboot)` é Ω"


def test_names_are_reduced_to_letters_and_digits():
    assert plain(HOSTILE).isascii()
    assert plain(HOSTILE).isalnum()
    assert plain("fuse block / 2") == "fuseblock2"


def test_site_text_cannot_become_a_command():
    network, corner = grow(19)
    clean = netlist(network, corner)
    hostile = replace(
        network,
        nodes=tuple(HOSTILE for _ in network.nodes),
        branches=tuple(replace(b, name=HOSTILE) for b in network.branches),
        loads=tuple(replace(load, name=HOSTILE) for load in network.loads),
        converters=tuple(replace(c, name=HOSTILE) for c in network.converters),
        sources=tuple(replace(s, name=HOSTILE) for s in network.sources),
    )
    text = netlist(hostile, replace(corner, name=HOSTILE))
    assert text.isascii()
    assert text.count("\n") == clean.count("\n")
    assert text.count(".control") == text.count(".endc") == 1
    for line in text.splitlines():
        code, _, comment = line.partition(";")
        assert "shell" not in (code if not line.startswith("*") else "")
        assert not comment or re.fullmatch(r" [A-Za-z0-9]*", comment)
