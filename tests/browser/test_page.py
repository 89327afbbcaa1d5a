"""The page in a real browser: seen, changed, tried, chosen and printed, at desk and phone size, by mouse and key.

Accessibility by axe-core, the open rule engine, against WCAG 2.2 level AA.
"""

import re
from difflib import ndiff

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

import ohmstead
from ohmstead.bench.rows import Wanted
from ohmstead.bench.store import store_path, view_store

pytestmark = pytest.mark.needs_chromium
DESK, PHONE = (1280, 900), (390, 844)
WCAG = {"runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}}
SCREENS = (
    "/",
    "/s/skerry.yaml",
    "/s/skerry.yaml/file",
    "/s/skerry.yaml/add?kind=converter",
    "/s/skerry-open.yaml/choices",
    "/s/cabin.yaml/bench",
    "/s/cabin.yaml/sheets",
    "/s/skerry.yaml/beside?other=cabin.yaml",
    "/s/saltpan.yaml/season",
    "/s/saltpan.yaml/cabinet",
    "/s/saltpan.yaml/entry?of=arrays&name=east+rack&there=season",
    "/s/saltpan.yaml/add?of=cabinet&there=cabinet",
    "/rules",
    "/rules/drop-on-run",
    "/s/none.yaml",
)


@pytest.mark.parametrize(("size", "scheme"), [(DESK, "light"), (PHONE, "dark")], ids=["desk light", "phone dark"])
def test_every_screen_is_accessible(window, size, scheme):
    made = window(size, scheme)
    for screen in SCREENS:
        made.page.goto(screen)
        made.picture(f"{size[0]}-{scheme}-{screen.strip('/').replace('/', '-').replace('?', '-') or 'home'}")
        found = Axe().run(made.page, options=WCAG)
        assert found.violations_count == 0, (screen, found.generate_report())
        wide = made.page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        assert wide <= 0, f"{screen} is wider than the window"
    made.complaints[:] = [one for one in made.complaints if "404" not in one]  # the last screen is not there


def test_the_drawing_answers_to_mouse_and_search(window):
    made = window()
    made.page.goto("/s/skerry.yaml")
    made.page.locator("#part-fridge").click()
    made.page.locator(".opened h2", has_text="fridge").wait_for()
    made.page.locator("[data-search]").fill("net supply")
    made.page.locator("[data-search]").press("Enter")
    made.page.locator(".opened h2", has_text="net supply").wait_for()
    assert made.page.locator("#part-net-supply").get_attribute("class") == "picked"
    before = made.page.locator(".leaf").bounding_box()["width"]
    made.page.locator("[data-zoom=in]").click()
    assert made.page.locator(".leaf").bounding_box()["width"] > before


def test_a_slider_moves_the_figures_of_the_engine(window, folder):
    made = window()
    made.page.goto("/s/skerry.yaml")
    made.page.locator("input[name=battery]").fill("0")
    made.page.locator("body[data-drawn='1']").wait_for(state="attached")
    shown = made.page.locator("#part-bank text.volts").text_content()
    study = ohmstead.open(folder / "skerry.yaml")
    case = next(case for case in study.cases if case.name == "low-hot-busy")
    volts = study.operation.voltage_v(study.point(case.name), "bank")
    assert float(shown.split()[0]) == pytest.approx(volts, abs=0.02)
    made.picture("slider")


def test_a_case_sets_the_sliders(window):
    made = window()
    made.page.goto("/s/skerry.yaml")
    made.page.locator("[data-case]").select_option("full-cold-idle")
    made.page.locator("body[data-drawn='1']").wait_for(state="attached")
    assert made.page.locator("input[name=battery]").input_value() == "100"
    assert made.page.locator("input[name=warmth]").input_value() == "0"


def test_a_cure_is_tried_then_written_then_undone(window, folder):
    made, path = window(), folder / "skerry.yaml"
    before = path.read_text()
    made.page.goto("/s/skerry.yaml")
    made.page.locator(".findings a", has_text="fuse-over-cable").first.click()
    made.page.locator(".opened h2", has_text="fuse-over-cable").wait_for()
    made.page.locator(".try select").select_option("fuse")
    made.page.locator(".try input[name=value]").fill("10 A blade")
    made.page.locator(".try button").click()
    made.page.locator(".tried h3", has_text="Gone").wait_for()
    assert path.read_text() == before
    made.picture("trial")
    made.page.locator(".tried button.strong").click()
    made.page.wait_for_url("**/s/skerry.yaml")
    changed = [line for line in ndiff(before.splitlines(), path.read_text().splitlines()) if line[0] in "+-"]
    assert len(changed) == 2 and "10 A blade" in changed[1]
    assert made.page.locator(".findings a", has_text="fuse-over-cable").count() == 0
    made.page.keyboard.press("Control+z")
    made.page.locator(".findings a", has_text="fuse-over-cable").first.wait_for()
    assert path.read_text() == before


def test_a_mistake_stays_at_the_field_and_out_of_the_file(window, folder):
    made, path = window(), folder / "cabin.yaml"
    before = path.read_text()
    made.page.goto("/s/cabin.yaml")
    made.page.locator(".things a").first.click()
    made.page.locator(".opened input[name='key:capacity']").fill("100")
    made.page.locator(".opened .fields button.strong").click()
    made.page.locator(".wrong").wait_for()
    assert path.read_text() == before
    made.complaints.clear()  # the browser tells of the refusal


def test_a_file_changed_in_an_editor_shows_itself(window, folder):
    made, path = window(), folder / "cabin.yaml"
    made.page.goto("/s/cabin.yaml/file")
    path.write_text(path.read_text() + "# from the editor\n")
    expect(made.page.locator("textarea")).to_have_value(re.compile("from the editor"), timeout=15_000)


def test_by_keyboard_alone_from_an_empty_folder_to_a_chosen_supply(window, folder):
    for path in folder.iterdir():
        path.unlink()
    made = window()
    page = made.page
    page.goto("/")
    typed = {
        "file": "hut",
        "name": "Tarn hut",
        "device0": "lamps",
        "window0": "10..15 V",
        "power0": "12 W",
        "way0": "4 m",
    }
    for name, text in typed.items():
        page.locator(f"[name={name}]").focus()
        page.keyboard.press("Control+a")
        page.keyboard.type(text)
    page.keyboard.press("Enter")
    page.wait_for_url("**/s/hut.yaml")
    page.goto("/s/hut.yaml/choices")
    page.locator("button.strong", has_text="Take").focus()
    with page.expect_navigation():
        page.keyboard.press("Enter")
    assert "choose" not in (folder / "hut.yaml").read_text()
    page.goto("/s/hut.yaml")
    assert page.locator(".verdict").text_content() == "Nothing found against building"
    page.goto("/s/hut.yaml/sheets")
    with page.expect_response("**/all-sheets.pdf*") as answer:
        page.evaluate("fetch(document.querySelector('a[href*=\"all-sheets.pdf\"]').href)")
    assert answer.value.body().startswith(b"%PDF")


def test_another_page_of_the_browser_cannot_change_anything(window, folder, server, tmp_path):
    """A form on a page from elsewhere (here another port) posts to ours."""
    from http.server import BaseHTTPRequestHandler, HTTPServer
    from threading import Thread

    form = f"<form id=f method=post action='{server}/s/cabin.yaml/file'><input name=text value=gone></form>"
    form += "<script>f.submit()</script>"

    class Evil(BaseHTTPRequestHandler):
        def do_GET(self):
            self.send_response(200)
            self.send_header("content-type", "text/html")
            self.end_headers()
            self.wfile.write(form.encode())

        def log_message(self, *_):
            pass

    before = (folder / "cabin.yaml").read_text()
    with HTTPServer(("127.0.0.1", 0), Evil) as evil:
        Thread(target=evil.serve_forever, daemon=True).start()
        made = window()
        with made.page.expect_response(lambda answer: answer.request.method == "POST") as answer:
            made.page.goto(f"http://127.0.0.1:{evil.server_port}/")
        evil.shutdown()
    assert answer.value.status == 403 and (folder / "cabin.yaml").read_text() == before
    made.page.goto("about:blank")
    made.complaints.clear()


def test_the_other_language_and_the_other_units(window):
    made = window()
    made.page.goto("/s/cabin.yaml")
    made.page.locator("select[name=language]").select_option("de")
    made.page.locator("h2", has_text="Befunde").wait_for()
    made.page.locator("select[name=units]").select_option("imperial")
    made.page.locator("text.size", has_text="AWG").first.wait_for()
    made.picture("german-imperial")


def test_the_bench_goes_on_while_nobody_answers_and_sends_each_reading_once(window, folder):
    made = window(PHONE)
    page = made.page
    page.goto("/s/cabin.yaml/bench")
    page.locator(".walk[data-step]").wait_for()
    page.locator("[name=who]").fill("Ada")
    page.locator("[data-tick=yes]").click()
    page.locator(".verdict-large.good").wait_for()
    made.context.set_offline(True)
    for _ in range(2):
        page.locator("[data-turn='1']").click()
        page.locator("[data-tick=yes]").click()
        page.locator(".verdict-large.kept").wait_for()
    page.locator(".walk[data-waiting='2']").wait_for()
    made.picture("bench-waiting")
    made.context.set_offline(False)
    page.locator(".walk[data-waiting='0']").wait_for()
    page.locator(".verdict-large.good").wait_for()
    made.picture("bench-phone")
    with view_store(store_path(folder / "cabin.yaml")) as store:
        entries = store.entries(Wanted("all"))
    assert len(entries) == 3 and len({entry.reading.token for entry in entries}) == 3
    made.complaints[:] = [one for one in made.complaints if "ERR_INTERNET_DISCONNECTED" not in one]


def test_a_number_is_typed_on_the_pad(window):
    made = window(PHONE)
    page = made.page
    page.goto("/s/cabin.yaml/bench")
    page.locator(".walk[data-step]").wait_for()
    page.locator("[name=who]").fill("Ada")
    page.locator("details.all summary").click()
    page.locator("[data-go^='fuses.far']").first.click()
    for key in ("1", "2", ".", "1"):
        page.locator(f"[data-digit='{key}']").click()
    assert page.locator("#typed").input_value() == "12.1"
    page.locator(".pad .strong").click()
    page.locator(".verdict-large", has_text="12.1 V").wait_for()
