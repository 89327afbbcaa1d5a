"""All files of the sheets: the same every time, nameless when wished, written with care by the command."""

import os
import re
import subprocess
import sys
from io import BytesIO
from zipfile import ZipFile

import pytest
from pypdf import PdfReader

from ohmstead.cli.main import main
from ohmstead.sheets import catalogue
from ohmstead.sheets.document import Document, Terms, Text
from ohmstead.sheets.render import pack as packing
from ohmstead.sheets.render.nameless import NAMELESS, nameless
from ohmstead.sheets.render.pack import pack
from ohmstead.study import from_text, open_site
from sheets.made import EXAMPLES, MENDED, MISTAKEN, TERMS, mistaken

FORMS = ("html", "pdf", "csv", "xlsx", "svg", "dxf")


def packed(study, terms=TERMS, forms=FORMS):
    study = study.nameless() if terms.sharing == "anonymous" else study
    return pack(study, terms, study.sheets(terms), forms)


def run(capsys, *words):
    status = main([str(word) for word in words])
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return status, out, err


def test_two_runs_give_the_same_bytes():
    first, second = packed(open_site(MISTAKEN)), packed(open_site(MISTAKEN))
    assert list(first) == list(second)
    assert [name for name in first if first[name] != second[name]] == []


def test_two_processes_give_the_same_bytes(tmp_path):
    """Other hash seeds, another clock zone, another folder."""
    made = []
    for number, zone in (("1", "UTC"), ("2", "Pacific/Auckland")):
        out = tmp_path / number
        done = subprocess.run(
            [sys.executable, "-m", "ohmstead", "sheets", str(MENDED), "--out", str(out), "--date", "2026-11-25"],
            env={**os.environ, "PYTHONHASHSEED": number, "TZ": zone, "PYTHONPATH": str(MENDED.parents[2] / "src")},
            capture_output=True, text=True, encoding="utf-8", check=False)  # fmt: skip
        assert done.returncode == 0, done.stderr
        made.append({path.relative_to(out).as_posix(): path.read_bytes() for path in out.rglob("*") if path.is_file()})
    assert list(made[0]) and set(made[0]) == set(made[1])
    assert [name for name in made[0] if made[0][name] != made[1][name]] == []


def test_the_date_is_the_only_date():
    undated = packed(open_site(MENDED), Terms(), ("html", "pdf"))
    for name, data in undated.items():
        if name.endswith(".pdf"):
            stamps = [str(value) for key, value in (PdfReader(BytesIO(data)).metadata or {}).items() if "Date" in key]
            assert all("1980" in stamp for stamp in stamps), stamps
        assert not re.search(rb"20[2-9][0-9]-[01][0-9]-[0-3][0-9]", data if name.endswith("html") else b"")


def test_every_file_can_be_reached_from_the_index():
    files = packed(mistaken())
    links = set(re.findall(r'href="([^"]+)"', files["index.html"].decode()))
    labels = {name for name in files if name.startswith("labels/")}  # the index leads to their folder
    assert labels and "labels/" in links
    assert set(files) - links - labels - {"index.html"} == set()
    assert links - {"labels/"} <= set(files)


def everything_readable(name, data):
    if name.endswith(".pdf"):
        read = PdfReader(BytesIO(data))
        return "\n".join([page.extract_text() for page in read.pages] + [str(read.metadata)])
    if name.endswith(".xlsx"):
        book = ZipFile(BytesIO(data))
        return "\n".join(book.read(inner).decode() for inner in book.namelist())
    return data.decode()


SECRET = """ohmstead: 1
site: {name: Brimstane & Gull hide, latitude: 57.613, longitude: -7.512, timezone: Atlantic/Faroe}
zones: {Hildas room: {air: 0..30 °C}, Hildas box: {air: Hildas room + 5 K}}
battery: {Gannet bank: {chemistry: LFP, cells: 4, capacity: 100 Ah, charging: 14.4 V, zone: Hildas box}}
parts:
  Tammie norrie lamp: {kind: device, input: 10..15 V, draws: 5 W, zone: Hildas room}
  cut: {kind: low-voltage disconnect, off: 11.8 V, on: 13.2 V, senses: Gannet bank, zone: Hildas room}
runs:
  - {from: Gannet bank, to: cut, length: 1 m, wire: 2.5 mm2, fuse: 5 A blade, fuse at: 0.1 m}
  - {from: cut, to: Tammie norrie lamp, length: 3 m, wire: 2.5 mm2}
accepted:
  - {finding: no-disconnect, on: Gannet bank, because: Tammie norrie lamp at Brimstane & Gull hide is pulled by hand}
"""


def test_anonymous_sheets_hold_neither_name_nor_place():
    study = from_text(SECRET, "holm/ternhut.yaml")
    named = "\n".join(everything_readable(name, data) for name, data in packed(study).items())
    assert "ternhut" in named and "Brimstane & Gull hide" in named
    hidden = packed(study, Terms(date="2026-11-25", sharing="anonymous"))
    for name, data in hidden.items():
        text = re.sub(r"\s+", " ", everything_readable(name, data))
        for word in ("Brimstane", "Gull", "ternhut", "holm", "57.613", "7.512", "Faroe", "Tammie", "Hilda", "Gannet"):
            assert word.lower() not in text.lower(), (name, word)
    assert NAMELESS in everything_readable("report.html", hidden["report.html"])
    assert study.nameless().findings and [
        (f.rule, f.value, f.limit, f.case, bool(f.accepted)) for f in study.findings
    ] == [(f.rule, f.value, f.limit, f.case, bool(f.accepted)) for f in study.nameless().findings]


@pytest.mark.parametrize("site", [MISTAKEN, MENDED, *EXAMPLES.glob("[cs]a*/*.yaml")], ids=lambda path: path.stem)
def test_other_names_change_no_figure(site):
    study = open_site(site)
    bare = study.nameless()
    assert [point.voltage_v for point in bare.operation.points] == [p.voltage_v for p in study.operation.points]
    assert sorted((f.rule, str(f.value), str(f.limit)) for f in bare.findings) == sorted(
        (f.rule, str(f.value), str(f.limit)) for f in study.findings
    )
    assert bare.verdict == study.verdict


def test_a_name_is_only_taken_out_whole():
    study = from_text(SECRET.replace("Brimstane & Gull hide", "lamp"), "lamp.yaml")
    kept = nameless(Document("report", "lamps", (Text("a lamp, lamps, lamp.stock.csv"),)), study.site)
    assert kept == Document("report", "lamps", (Text(f"a {NAMELESS}, lamps, {NAMELESS}.stock.csv"),))


def test_a_failing_site_gets_its_sheets_and_the_command_ends_with_0(capsys, tmp_path):
    status, out, _ = run(capsys, "sheets", MISTAKEN, "--out", tmp_path, "--only", "report", "--as", "html,csv")
    assert status == 0
    assert "Not fit to build" in out and "fuse-over-cable" in out
    listed = {line.strip() for line in out.splitlines() if line.startswith("  ") and "." in line}
    there = {path.relative_to(tmp_path).as_posix() for path in tmp_path.rglob("*") if path.is_file()}
    assert there <= listed and "report.html" in there and "tables/loads.csv" in there


def test_a_site_that_cannot_be_used_gets_none(capsys, tmp_path):
    bad = tmp_path / "bad.yaml"
    bad.write_text("ohmstead: 1\nsite: {nam: x}\n")
    status, out, err = run(capsys, "sheets", bad, "--out", tmp_path / "out")
    assert (status, out) == (2, "") and "bad.yaml" in err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(("words", "said"), [
    (("--as", "docx"), "docx"), (("--only", "fuse-shedule"), "fuse-schedule"),
    (("--date", "25.11.2026"), "2026-11-25")])  # fmt: skip
def test_a_wish_that_cannot_be_met_is_told(capsys, tmp_path, words, said):
    status, out, err = run(capsys, "sheets", MENDED, "--out", tmp_path / "out", *words)
    assert (status, out) == (2, "")
    assert said in err and "mend" in err
    assert not (tmp_path / "out").exists()


def test_without_the_extra_html_and_csv_are_made_and_the_rest_says_what_to_install(capsys, tmp_path, monkeypatch):
    monkeypatch.setattr(packing, "find_spec", lambda name: None)
    status, out, _ = run(capsys, "sheets", MENDED, "--out", tmp_path, "--only", "report")
    assert status == 0
    assert 'pip install "ohmstead[sheets]"' in out and "typst" in out
    assert (tmp_path / "report.html").exists() and (tmp_path / "tables" / "loads.csv").exists()
    assert not list(tmp_path.rglob("*.pdf"))
    status, _, err = run(capsys, "sheets", MENDED, "--out", tmp_path, "--as", "pdf")
    assert status == 2
    assert 'pip install "ohmstead[sheets]"' in err


def test_html_and_csv_import_no_extra(tmp_path):
    """In a fresh interpreter in which the extras cannot be imported at all."""
    code = ("import sys\n"
            "for name in ('typst', 'xlsxwriter', 'segno', 'ezdxf', 'numpy', 'scipy', 'openpyxl'):\n"
            "    sys.modules[name] = None\n"
            "from ohmstead.cli.main import main\n"
            f"words = ['sheets', {str(MENDED)!r}, '--out', {str(tmp_path)!r}, '--as', 'html,csv']\n"
            "sys.exit(main(words))\n")  # fmt: skip
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, encoding="utf-8", check=False,
                          env={**os.environ, "PYTHONPATH": str(MENDED.parents[2] / "src")})  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert {f"{name}.html" for name in catalogue.sheet_names()} <= {path.name for path in tmp_path.iterdir()}


def test_the_site_file_is_never_written_over(capsys, tmp_path):
    site = tmp_path / "report.html"
    site.write_text(MENDED.read_text(encoding="utf-8"), encoding="utf-8")
    before = site.read_bytes()
    status, _, err = run(capsys, "sheets", site, "--out", tmp_path, "--as", "html")
    assert status == 2 and "never written over" in err
    assert site.read_bytes() == before


def test_a_link_in_the_folder_is_replaced_not_followed(capsys, tmp_path):
    out, other = tmp_path / "out", tmp_path / "mine.txt"
    out.mkdir()
    other.write_text("mine")
    (out / "report.html").symlink_to(other)
    status, _, _ = run(capsys, "sheets", MENDED, "--out", out, "--only", "report", "--as", "html")
    assert status == 0
    assert other.read_text() == "mine"
    assert not (out / "report.html").is_symlink()


def test_a_folder_that_cannot_be_made_is_told(capsys, tmp_path):
    (tmp_path / "file").write_text("x")
    status, _, err = run(capsys, "sheets", MENDED, "--out", tmp_path / "file", "--as", "html")
    assert status == 2 and "cannot be written" in err


def test_nothing_half_written_is_left(capsys, tmp_path):
    run(capsys, "sheets", MENDED, "--out", tmp_path, "--as", "html,csv", "--only", "report")
    assert not list(tmp_path.rglob("*.half"))
