"""Files that must be refused; beside each stands every word the builder is told."""

import re
from pathlib import Path

import pytest

from ohmstead.site.read import SiteError, read_site

HERE = Path(__file__).parent
FILES = sorted(path.name for path in HERE.glob("*.yaml"))


@pytest.mark.parametrize("name", FILES)
def test_is_refused_with_its_message(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(HERE)
    expected = (HERE / name).with_suffix(".txt").read_text(encoding="utf-8")
    with pytest.raises(SiteError) as told:
        read_site(name)
    assert str(told.value) + "\n" == expected


@pytest.mark.parametrize("name", FILES)
def test_the_message_is_whole(name: str) -> None:
    """Each problem names the file, a line of it, what was expected and how to mend it."""
    expected = (HERE / name).with_suffix(".txt").read_text(encoding="utf-8")
    n_line = len((HERE / name).read_bytes().split(b"\n"))
    for problem in expected.rstrip("\n").split("\n\n"):
        head = re.match(rf"{re.escape(name)}, line (\d+): \S", problem)
        assert head and 1 <= int(head[1]) <= n_line
        assert re.search(r"^ +\^+$", problem, re.M)
        assert re.search(r"^   expected  \S", problem, re.M)
        assert re.search(r"^   mend      \S", problem, re.M)


def test_no_message_stands_alone() -> None:
    assert {p.stem for p in HERE.glob("*.txt")} == {p.stem for p in HERE.glob("*.yaml")}
    assert len(FILES) >= 45
