"""Values are written back without touching anything else, and never over somebody else's change."""

import os
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ohmstead.site import edit
from ohmstead.site.compose import compose
from ohmstead.site.edit import EditConflict, EditRefused, replace_value, save
from ohmstead.site.nodes import Mapping
from ohmstead.site.place import Place
from ohmstead.site.read import read_text

FULL = (Path(__file__).parent / "full.yaml").read_text(encoding="utf-8")
RUN = """ohmstead: 1   # first
parts:
  a: {kind: busbar}
  b: {kind: switch, zone: }
runs:
  # the long one
  - {from: a, to: b, length: 1.6 m, wire: choose, ends: [ferrule, ring M8]}   # ours
accepted:
  - {finding: drop-on-path, because: as is}
"""


def place_of(text: str, attribute: str) -> Place:
    place = read_text(text).runs[0].origin[attribute].place
    assert place is not None
    return place


def only_difference(old: str, new: str, start: int, end: int) -> str:
    """What stands in the stretch now; everything around it must be as it was."""
    assert new.startswith(old[:start])
    assert new.endswith(old[end:])
    return new[start : len(new) - (len(old) - end)]


def test_a_value_takes_the_place_of_another() -> None:
    old = RUN.replace("zone: ", "stud: M8")
    place = place_of(old, "wire")
    new = replace_value(old, place, "2.5 mm2")
    assert only_difference(old, new, place.start, place.end) == "2.5 mm2"
    wire = read_text(new).runs[0].wire
    assert wire is not None and wire.area_mm2 == 2.5


def test_a_list_takes_the_place_of_another() -> None:
    old = RUN.replace("zone: ", "stud: M8")
    place = place_of(old, "ends")
    new = replace_value(old, place, "[ring M6, ring M8]")
    assert only_difference(old, new, place.start, place.end) == "[ring M6, ring M8]"
    assert [end.stud_mm for end in read_text(new).runs[0].ends] == [6.0, 8.0]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("a: {zone: }\n", "a: {zone: hide}\n"),
        ("a: {zone: , b: c}\n", "a: {zone: hide, b: c}\n"),
        ("zone:   # where\n", "zone: hide   # where\n"),
        ("zone:\nb: c\n", "zone: hide\nb: c\n"),
    ],
)
def test_an_empty_value_is_filled(old: str, new: str) -> None:
    root, _ = compose(old, "site.yaml")
    assert isinstance(root, Mapping)
    inside = root.entries["a"][1] if "a" in root.entries else root
    assert isinstance(inside, Mapping)
    assert replace_value(old, inside.entries["zone"][1].place, "hide") == new


@pytest.mark.parametrize("value", ["1,6 m", "a # b", "a: b", "{", "- x", "'x'", '"', "@", "x, y", "&a", "no", "#"])
def test_quotes_are_added_where_a_value_needs_them(value: str) -> None:
    old = RUN.replace("zone: ", "stud: M8")
    place = read_text(old).accepted[0].origin["because"].place
    assert place is not None
    if value[0] == "{":
        with pytest.raises(EditRefused):
            replace_value(old, place, value)
    else:
        assert read_text(replace_value(old, place, value)).accepted[0].because == value


@settings(max_examples=150, deadline=None)
@given(st.text(st.characters(categories=("L", "N", "P", "S"), codec="utf-8"), min_size=1, max_size=30))
def test_any_text_comes_back_as_it_was_written(value: str) -> None:
    old = RUN.replace("zone: ", "stud: M8")
    place = read_text(old).accepted[0].origin["because"].place
    assert place is not None
    if value[0] in "{[":
        return
    new = replace_value(old, place, value)
    assert read_text(new).accepted[0].because == value
    only_difference(old, new, place.start, place.end)


def test_every_stated_value_of_a_site_can_be_written_back() -> None:
    """The same value again leaves the file as it is, whatever its form and wherever it stands."""
    site = read_text(FULL)
    things = [site.about, *site.zones.values(), *site.batteries.values(), *site.parts.values(), *site.runs]
    places = [o.place for thing in things for o in thing.origin.values() if o.place is not None]
    assert len(places) > 200
    for place in places:
        value = FULL[place.start : place.end]
        if "\n" not in value and value[0] not in "'\"":
            assert replace_value(FULL, place, value) == FULL


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_byte_order_mark_survive(newline: str, mark: str, tmp_path: Path) -> None:
    old = mark + RUN.replace("zone: ", "stud: M8").replace("\n", newline)
    file = tmp_path / "site.yaml"
    file.write_bytes(old.encode("utf-8"))
    place = place_of(old, "length_m")
    save(file, old, replace_value(old, place, "µ 2 m".replace("µ ", "")))
    assert file.read_bytes().decode("utf-8") == old.replace("1.6 m", "2 m")


def test_new_lines_get_the_line_ends_of_the_file(tmp_path: Path) -> None:
    file = tmp_path / "site.yaml"
    file.write_bytes(b"ohmstead: 1\r\n")
    save(file, "ohmstead: 1\r\n", "ohmstead: 1\r\nsite: {name: x}\n")
    assert file.read_bytes() == b"ohmstead: 1\r\nsite: {name: x}\r\n"


@pytest.mark.parametrize("value", ["", "  ", "a\nb", "\x00", "{a: 1", "[a], b: [c]", "{a: 1, b: 2}, c: {d: 1}"])
def test_what_cannot_be_written_is_refused(value: str) -> None:
    old = RUN.replace("zone: ", "stud: M8")
    with pytest.raises(EditRefused):
        replace_value(old, place_of(old, "wire"), value)


def test_a_place_of_another_text_is_refused() -> None:
    with pytest.raises(EditRefused, match="read the file again"):
        replace_value(RUN, Place("", 3, 1, 20, 24), "x")


def test_a_changed_file_is_left_alone(tmp_path: Path) -> None:
    file = tmp_path / "site.yaml"
    file.write_text("ohmstead: 1 # theirs\n", encoding="utf-8")
    with pytest.raises(EditConflict) as told:
        save(file, "ohmstead: 1\n", "ohmstead: 1 # ours\n")
    assert told.value.on_disk == "ohmstead: 1 # theirs\n"
    assert file.read_text(encoding="utf-8") == "ohmstead: 1 # theirs\n"
    assert os.listdir(tmp_path) == ["site.yaml"]


def test_a_vanished_file_is_not_made_anew(tmp_path: Path) -> None:
    with pytest.raises(EditConflict) as told:
        save(tmp_path / "site.yaml", "a", "b")
    assert told.value.on_disk is None
    assert os.listdir(tmp_path) == []


def test_nothing_is_left_behind_when_writing_fails(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "site.yaml"
    file.write_text("a", encoding="utf-8")

    def full_disk(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(edit.os, "fsync", full_disk)
    with pytest.raises(EditRefused, match="No space left"):
        save(file, "a", "b")
    assert file.read_text(encoding="utf-8") == "a"
    assert os.listdir(tmp_path) == ["site.yaml"]


def test_text_that_is_no_text_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "site.yaml"
    file.write_text("a", encoding="utf-8")
    with pytest.raises(EditRefused, match="UTF-8"):
        save(file, "a", "\ud800")
    assert file.read_text(encoding="utf-8") == "a"


@pytest.mark.skipif(os.name == "nt", reason="links and modes of another kind")
def test_mode_and_link_are_kept(tmp_path: Path) -> None:
    file, link = tmp_path / "real.yaml", tmp_path / "link.yaml"
    file.write_text("a", encoding="utf-8")
    file.chmod(0o640)
    link.symlink_to(file)
    save(link, "a", "b")
    assert link.is_symlink()
    assert file.read_text(encoding="utf-8") == "b"
    assert file.stat().st_mode & 0o777 == 0o640
