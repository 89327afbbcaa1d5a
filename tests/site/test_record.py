"""Records behave as frozen dataclasses do."""

import copy
import pickle
from dataclasses import FrozenInstanceError, fields, is_dataclass, replace
from typing import Any

import pytest

from ohmstead.quantity.span import Span
from ohmstead.site.pieces import Draw, DutyEntry, Endpoint


def test_made_by_place_and_by_name() -> None:
    assert Endpoint("block", 3) == Endpoint(part="block", way=3)
    assert Endpoint("block").way is None
    assert DutyEntry("on", "any").end_h == 24.0


def test_equal_when_all_values_are_and_usable_as_a_key() -> None:
    assert Endpoint("block", 3) != Endpoint("block", 4)
    assert Endpoint("block") != "block"
    assert {Endpoint("block", 3): 1}[Endpoint("block", 3)] == 1


def test_nothing_can_be_changed() -> None:
    end: Any = Endpoint("block")
    with pytest.raises(FrozenInstanceError):
        end.way = 3
    with pytest.raises(FrozenInstanceError):
        del end.part


def test_a_dataclass_to_everybody_else() -> None:
    draw = Draw("on", Span.exact(3.0))
    assert is_dataclass(draw)
    assert [field.name for field in fields(draw)] == ["state", "power_w", "seconds"]
    assert replace(draw, seconds=2.0) == Draw("on", Span.exact(3.0), 2.0)
    assert copy.deepcopy(draw) == draw == pickle.loads(pickle.dumps(draw))
    assert repr(Endpoint("a", 1)) == "Endpoint(part='a', way=1)"


def test_wrong_values_are_refused() -> None:
    make: Any = Endpoint
    with pytest.raises(TypeError):
        make()
    with pytest.raises(TypeError):
        make("a", 1, 2)
    with pytest.raises(TypeError):
        make("a", part="b")
    with pytest.raises(TypeError):
        make("a", colour="red")
