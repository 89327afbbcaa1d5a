"""Temperatures in °F: the fixed points of the scale (common practice, no source), and what was typed left alone."""

import pytest

from ohmstead.web.fahrenheit import in_fahrenheit
from web.served import client, filled


@pytest.mark.parametrize(("celsius", "fahrenheit"), [("-40", "-40"), ("0", "32"), ("37.0", "98.6"), ("100", "212")])
def test_fixed_points(celsius, fahrenheit):
    assert in_fahrenheit(f"<p>{celsius} °C</p>") == f"<p>{fahrenheit} °F</p>"


def test_what_is_typed_stays_as_it_was_typed(tmp_path):
    page = client(filled(tmp_path, "skerry-mended.yaml"))
    page.cookies.set("units", "imperial")
    box = page.get("/s/skerry-mended.yaml/cabinet").text
    assert "°F" in box
    assert page.get("/s/skerry-mended.yaml/file").text.count("°C") >= (
        tmp_path / "skerry-mended.yaml"
    ).read_text().count("°C")
