"""Tracked files hold no machine path, no registry address, nothing loaded from afar."""

from pathlib import Path

import pytest

from house import texts


def test_tracked_files_are_clean() -> None:
    files = texts.tracked()
    assert len(files) > 50
    assert [fault for path in files for fault in texts.faults(path)] == []


# Words are put together here, so that this file stays clean itself.
BAD = [
    "https://" + "pypi" + ".org/simple",
    "--index" + "-url x",
    "see /" + "work/main/README.md",
    "HOME=/" + "root",
    "/" + "home/someone/site.yaml",
    '<script src="https://' + "cdn" + '.example/x.js">',
    "from the tran" + "script",
    "as in issue" + " 12",
]
GOOD = [
    "/dev/null",
    "work/home",
    "the /rooted tree",
    "network/workbench",
    "an issue with 12 V",
    "out/work",
    "/tmp/x",
]


@pytest.mark.parametrize("line", BAD)
def test_a_bad_line_is_found(tmp_path: Path, line: str) -> None:
    path = tmp_path / "a.md"
    path.write_text(f"good\n{line}\n", encoding="utf-8")
    assert len(list(texts.faults(path, tmp_path))) == 1


@pytest.mark.parametrize("line", GOOD)
def test_a_good_line_is_left_alone(tmp_path: Path, line: str) -> None:
    path = tmp_path / "a.md"
    path.write_text(line, encoding="utf-8")
    assert list(texts.faults(path, tmp_path)) == []


def test_other_encodings_are_found_except_among_broken_files(tmp_path: Path) -> None:
    (tmp_path / "broken").mkdir()
    for path in (tmp_path / "a.txt", tmp_path / "broken" / "a.txt"):
        path.write_bytes(b"caf\xe9")
    assert list(texts.faults(tmp_path / "a.txt", tmp_path)) == ["a.txt: not UTF-8"]
    assert list(texts.faults(tmp_path / "broken" / "a.txt", tmp_path)) == []
