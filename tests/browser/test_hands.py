"""What is moved by hand: parts on the plate, obstacles in the sky; forms that come back; two windows on one file."""

import re
from difflib import ndiff

import pytest
from playwright.sync_api import expect

import ohmstead
from ohmstead.plan.plan import plan_of
from ohmstead.quantity.show import show

pytestmark = pytest.mark.needs_chromium
PHONE = (390, 844)
FILE = "saltpan.yaml"


def changed(before, after):
    return [line for line in ndiff(before.splitlines(), after.splitlines()) if line[0] in "+-"]


def drag(page, place, across, down):
    place.scroll_into_view_if_needed()
    box = place.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + across, y + down, steps=4)
    page.mouse.up()


def test_a_part_is_dragged_on_the_plate_then_moved_by_keys_and_written(window, folder):
    made, path = window(), folder / FILE
    page, before = made.page, path.read_text()
    page.goto(f"/s/{FILE}/cabinet")
    drag(page, page.locator("[data-board] #part-net-switch"), 6, -4)
    page.locator("[data-plate][data-answered]").wait_for()
    right = int(page.locator("[name='right:net switch']").input_value())
    assert right > plan_of(ohmstead.open(path).site).stand("net switch").corner[0] and path.read_text() == before
    page.locator("[name='right:net switch']").fill("342")
    page.evaluate("delete document.querySelector('[data-plate]').dataset.checked")
    page.locator("#part-net-switch").focus()
    page.keyboard.press("Shift+ArrowRight")
    for _ in range(4):
        page.keyboard.press("ArrowLeft")
    assert page.locator("[name='right:net switch']").input_value() == "348"
    page.locator("[data-plate][data-checked]").wait_for()
    assert page.evaluate("document.activeElement.id") == "part-net-switch"
    cells = "rows => rows.map(row => [row.cells[0].textContent, row.cells[1].textContent])"
    shown = dict(page.locator("[data-wires] tr").evaluate_all(cells))
    made.picture("plate-dragged")
    with page.expect_navigation():
        page.locator("[data-places] button.strong").click()
    lines = changed(before, path.read_text())
    assert len(lines) == 2 and "at: [348 mm," in lines[1]
    led = {led.name: show(led.length_m, "length") for led in plan_of(ohmstead.open(path).site).wires}
    assert shown == led  # the lengths on the page are those of the plan that was written
    page.keyboard.press("Control+z")
    page.locator("[name='right:net switch']:not([value='348'])").wait_for()
    assert path.read_text() == before


def test_an_obstacle_is_dragged_around_the_array_and_written(window, folder):
    made, path = window(PHONE), folder / FILE
    page, before = made.page, path.read_text()
    page.goto(f"/s/{FILE}/season?array=west+rack")
    handle = page.locator(".handle[data-name=mast]")
    handle.wait_for()
    drag(page, handle, -12, 0)
    page.locator("[data-sky][data-answered]").wait_for()
    expect(page.locator("[name='east:mast']")).not_to_have_value("-4")
    page.locator("[data-costs] svg").wait_for()
    handle.focus()
    page.keyboard.press("ArrowDown")
    expect(page.locator("[name='top:mast']")).to_have_value(re.compile(r"^7"))
    made.picture("sky-dragged-phone")
    with page.expect_navigation():
        page.locator("[data-figures] button.strong").click()
    lines = changed(before, path.read_text())
    mast = ohmstead.open(path).site.obstacles["mast"]
    assert len(lines) == 2 and mast.top_m < 8
    assert (mast.east_m**2 + mast.north_m**2) ** 0.5 == pytest.approx(20**0.5, abs=0.02)


def test_a_form_comes_back_with_the_reason_at_its_field_and_is_mended_there(window, folder):
    made, path = window(PHONE), folder / FILE
    page = made.page
    page.goto(f"/s/{FILE}/season")
    page.locator(".chapters a", has_text="east rack").click()
    page.locator(".opened input[name='key:tilt']").fill("31")
    page.locator(".opened .fields button.strong").click()
    page.locator(".reason", has_text="unit").wait_for()
    expect(page.locator(".opened input[name='key:tilt']")).to_be_focused()
    made.picture("form-refused-phone")
    page.keyboard.press("End")
    page.keyboard.type("°")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    assert ohmstead.open(path).site.arrays["east rack"].tilt_deg == 31
    made.complaints[:] = [one for one in made.complaints if "422" not in one]


def test_two_windows_keep_what_both_typed(window, folder):
    ada, ben, path = window(), window(), folder / FILE
    for one, name in ((ada, "east rack"), (ben, "west rack")):
        one.page.goto(f"/s/{FILE}/season")
        one.page.locator(".chapters a", has_text=name).click()
        one.page.locator(".opened input[name='key:tilt']").fill("27°" if one is ada else "33°")
    for one in (ada, ben):
        with one.page.expect_navigation():
            one.page.locator(".opened .fields button.strong").click()
    arrays = ohmstead.open(path).site.arrays
    assert (arrays["east rack"].tilt_deg, arrays["west rack"].tilt_deg) == (27, 33)


def test_what_is_being_typed_is_not_swept_away_by_a_change_elsewhere(window, folder):
    made, path = window(), folder / FILE
    page = made.page
    page.goto(f"/s/{FILE}/season")
    page.locator(".chapters a", has_text="mast").click()
    page.locator(".opened input[name='key:top']").fill("7.5 m")
    path.write_text(path.read_text().replace("top: 8 m", "top: 9 m"))
    page.locator("#said", has_text="changed meanwhile").wait_for()
    assert page.locator(".opened input[name='key:top']").input_value() == "7.5 m"
    page.locator(".opened .fields button.strong").click()
    page.locator(".opened del", has_text="8 m").wait_for()
    made.picture("clash")
    with page.expect_navigation():
        page.locator(".opened .fields button.strong").click()
    assert "top: 7.5 m" in path.read_text()
    made.complaints[:] = [one for one in made.complaints if "409" not in one]
