"""Every example in a docstring runs and says what it says."""

import doctest
import importlib

import pytest

from house.modules import read_package

WITH_EXAMPLES = [m.name for m in read_package() if ">>>" in m.text]


@pytest.mark.parametrize("name", WITH_EXAMPLES)
def test_examples(name: str) -> None:
    result = doctest.testmod(importlib.import_module(name))
    assert result.attempted > 0
    assert result.failed == 0
