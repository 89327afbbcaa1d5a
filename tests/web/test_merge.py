"""Two people on one file: changes that do not touch each other are both kept, others are shown side by side."""

import pytest

import ohmstead
from web.served import client, filled, mark

FILE = "saltpan.yaml"


@pytest.fixture
def two(tmp_path):
    """Two windows of one page, and the file."""
    page = client(filled(tmp_path, FILE))
    return page, page, tmp_path / FILE


def send(page, route, seen, **values):
    return page.post(f"/s/{FILE}/{route}", data={"mark": seen, **values})


def test_changes_of_different_entries_are_both_kept(two):
    ada, ben, path = two
    seen = mark(ada, FILE)
    one = send(ada, "set", seen, of="arrays", name="east rack", **{"key:tilt": "28°"})
    other = send(ben, "set", seen, name="dust sampler", **{"key:priority": "4"})
    assert one.status_code == other.status_code == 303
    site = ohmstead.open(path).site
    assert site.arrays["east rack"].tilt_deg == 28 and site.parts["dust sampler"].priority == 4


def test_a_change_in_an_editor_elsewhere_is_no_hindrance(two):
    page, _, path = two
    seen = mark(page, FILE)
    path.write_text("# a note from the editor\n" + path.read_text().replace("gear: 18 kg", "gear: 19 kg"))
    run = ohmstead.open(path).site.runs[-1].name
    assert send(page, "set", seen, name=run, **{"key:length": "44 m"}).status_code == 303
    text = path.read_text()
    assert text.startswith("# a note") and "gear: 19 kg" in text and "length: 44 m" in text


def test_a_run_is_found_again_when_others_moved_it(two):
    ada, ben, path = two
    seen, run = mark(ada, FILE), ohmstead.open(path).site.runs[-1].name
    assert send(ben, "remove", seen, name="mini computer").status_code == 303
    assert send(ada, "set", seen, name=run, **{"key:length": "44 m"}).status_code == 303
    site = ohmstead.open(path).site
    assert site.runs[-1].name == run and site.runs[-1].length_m == 44 and "mini computer" not in site.parts


def test_the_same_entry_changed_twice_is_shown_with_both_and_sent_anew(two):
    ada, ben, path = two
    seen = mark(ada, FILE)
    assert send(ada, "set", seen, of="arrays", name="east rack", **{"key:tilt": "28°"}).status_code == 303
    text = path.read_text()
    mine = {"key:tilt": "25°", "key:azimuth": "110°", "key:in series": "2"}  # tilt as Ben saw it, azimuth his own
    answer = send(ben, "set", seen, of="arrays", name="east rack", **mine)
    assert answer.status_code == 409 and path.read_text() == text
    assert "<del>25°</del>" in answer.text and "<ins>28°</ins>" in answer.text
    assert 'name="key:azimuth" value="110°"' in answer.text and 'name="key:tilt" value="28°"' in answer.text
    fresh = answer.text.split('name="mark" value="')[1].split('"')[0]
    again = {"key:tilt": "28°", "key:azimuth": "110°", "key:in series": "2"}
    assert send(ben, "set", fresh, of="arrays", name="east rack", **again).status_code == 303
    array = ohmstead.open(path).site.arrays["east rack"]
    assert (array.tilt_deg, array.azimuth_deg) == (28, 110)


def test_what_was_typed_for_an_entry_that_is_gone_is_not_lost(two):
    ada, ben, path = two
    seen = mark(ada, FILE)
    assert send(ada, "remove", seen, of="obstacles", name="mast").status_code == 303
    answer = send(ben, "set", seen, of="obstacles", name="mast", **{"key:top": "9.5 m"})
    assert answer.status_code == 409 and "9.5 m" in answer.text and "<del>" in answer.text
    assert "mast:" not in path.read_text()


def test_a_part_whose_runs_were_changed_is_not_taken_out_unseen(two):
    ada, ben, path = two
    seen = mark(ada, FILE)
    run = next(run for run in ohmstead.open(path).site.runs if run.end.part == "dust sampler")
    assert send(ada, "set", seen, name=run.name, **{"key:length": "40 m"}).status_code == 303
    assert send(ben, "remove", seen, name="dust sampler").status_code == 409
    assert "dust sampler" in ohmstead.open(path).site.parts


def test_two_texts_of_the_whole_file_are_shown_beside_each_other(two):
    ada, ben, path = two
    seen, text = mark(ada, FILE), path.read_text()
    assert send(ada, "file", seen, text=text.replace("12 cm", "14 cm")).status_code == 303
    answer = send(ben, "file", seen, text=text + "# Ben was here\n")
    assert answer.status_code == 409 and "# Ben was here" in answer.text and "<ins>" in answer.text
    assert "14 cm" in path.read_text() and "Ben" not in path.read_text()


def test_a_mark_that_nobody_knows_is_never_merged(two):
    page, _, path = two
    before = path.read_text()
    answer = send(page, "set", "0123456789abcdef", of="obstacles", name="mast", **{"key:top": "9.5 m"})
    assert answer.status_code == 409 and path.read_text() == before and 'value="9.5 m"' in answer.text
    new = {"kind": "device", "name": "lamp", "key:input": "42..60 V", "key:draws": "5 W"}
    answer = send(page, "add", "", **new)
    assert answer.status_code == 409 and path.read_text() == before and 'value="42..60 V"' in answer.text


def test_a_finding_that_says_something_else_by_now_is_not_accepted(tmp_path):
    page = client(filled(tmp_path, "skerry.yaml"))
    path = tmp_path / "skerry.yaml"
    found = next(one for one in ohmstead.open(path).findings if one.rule == "fuse-over-cable")
    values = {"mark": mark(page, "skerry.yaml"), "finding": f"{found.rule}|{found.subject}", "because": "we know"}
    text = path.read_text()
    path.write_text(text + "# seen\n")
    assert page.post("/s/skerry.yaml/accept", data=values).status_code == 303
    path.write_text(text)
    changed = {"mark": mark(page, "skerry.yaml"), "name": found.subject, "key:fuse": "10 A blade"}
    assert page.post("/s/skerry.yaml/set", data=changed).status_code == 303
    assert page.post("/s/skerry.yaml/accept", data=values).status_code == 409
