"""The small reader of part files, against a full one."""

from pathlib import Path

import pytest
import yaml

from ohmstead.parts import yaml_data
from ohmstead.parts.yaml_data import parse, part_file, part_names, part_words

FILES = [(folder, name) for folder in ("fuses", "plugs", "cells") for name in part_names(folder)]


@pytest.mark.parametrize("folder, name", FILES)
def test_every_part_file_as_a_full_reader_sees_it(folder, name):
    path = Path(yaml_data.HERE, folder, name + ".yaml")
    assert part_file(folder, name) == yaml.safe_load(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("folder, name", FILES)
def test_words_are_found_without_reading_the_rest(folder, name):
    assert list(part_words(folder)[name]) == part_file(folder, name)["words"]


@pytest.mark.parametrize(
    "text",
    [
        "a: 1\nb: [1, 2.5, x y]\n",
        "a: {b: {c: [1, ~]}, d: yes}\n",
        "a:\n  b: 1\n  c:\n    d: -2.5\ne: no\n",
        "a:\n  - b: 1\n    c: [2]\n  - b: 3\n",
        '# head\na: "x, y: z"  # tail\nb: {"05": 1, 1.5: {c: two words}}\n',
        "a: {}\nb: []\nc:\n",
        "a: 5.5x2.1\nb: 1x\nc: -2\n",
    ],
)
def test_plain_yaml(text):
    assert parse(text) == yaml.safe_load(text)


@pytest.mark.parametrize("text", ["a: [1] 2\n", "a: 1\n   b: 2\n"])
def test_torn_text_is_refused(text):
    with pytest.raises(ValueError):
        parse(text)
