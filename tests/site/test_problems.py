"""How problems are printed."""

from ohmstead.site.place import Place, place_at
from ohmstead.site.problems import Problem, SiteError, render


def at(text: str, what: str) -> Problem:
    start = text.index(what)
    return Problem(place_at(text, start, start + len(what), "s.yaml"), "wrong", "right", "write it")


def carets(text: str, what: str) -> str:
    """The part of the printed line that the carets point at."""
    _, line, below, *_ = render([at(text, what)], text).split("\n")
    return line[below.index("^") : below.rindex("^") + 1]


def test_the_form() -> None:
    text = "a: 1\nb: nine\n"
    assert render([at(text, "nine")], text) == (
        "s.yaml, line 2: wrong\n    2 | b: nine\n           ^^^^\n   expected  right\n   mend      write it"
    )


def test_problems_are_sorted_and_parted_by_an_empty_line() -> None:
    text = "a: 1\nb: nine\n"
    shown = render([at(text, "nine"), at(text, "1")], text)
    first, second = shown.split("\n\n")
    assert first.startswith("s.yaml, line 1") and second.startswith("s.yaml, line 2")


def test_a_long_line_is_cut_around_the_place() -> None:
    text = "x" * 300 + " here " + "y" * 300
    shown = render([at(text, "here")], text)
    assert carets(text, "here") == "here"
    assert max(len(line) for line in shown.split("\n")) < 130
    for end in ("here " + "y" * 300, "x" * 300 + " here"):
        assert carets(end, "here") == "here"


def test_tabs_and_combining_signs_keep_the_carets_in_place() -> None:
    assert carets("a:\t9", "9") == "9"
    text = "e\u0301: 9"
    _, line, below, *_ = render([at(text, "9")], text).split("\n")
    assert below.index("^") == line.index("9") - 1  # the accent takes no column


def test_wide_signs_take_two_columns() -> None:
    text = "漢: 9"
    _, line, below, *_ = render([at(text, "9")], text).split("\n")
    assert below.index("^") == line.index("9") + 1


def test_signs_that_steer_a_terminal_are_not_printed() -> None:
    text = "a: \x1b[31mred\r\nb: 1\n"
    shown = render([at(text, "red")], text)
    assert "\x1b" not in shown and "\r" not in shown


def test_a_problem_of_the_whole_file_has_no_line() -> None:
    shown = render([Problem(Place("s.yaml", 0, 0, 0, 0), "gone", "a file", "look for it")], "")
    assert shown == "s.yaml: gone\n   expected  a file\n   mend      look for it"


def test_the_error_prints_itself() -> None:
    text = "a: 1\nb: nine\n"
    fault = SiteError([at(text, "nine"), at(text, "1")], text)
    assert [p.place.line for p in fault.problems] == [1, 2]
    assert str(fault) == render(fault.problems, text)


def test_places_are_counted_over_every_line_end() -> None:
    for newline in ("\n", "\r\n", "\r"):
        text = f"\ufeffa{newline}b{newline}cde"
        place = place_at(text, text.index("d"), text.index("e"), "s.yaml")
        assert (place.line, place.column) == (3, 2)
    assert place_at("\ufeffab", 2, 3, "s.yaml").column == 2
