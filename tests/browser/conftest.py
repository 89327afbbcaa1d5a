"""A real server on a folder of copies, and a real browser that looks at it."""

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from ohmstead.web.samples import samples

FLAGS = ("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage")  # fmt: skip
PICTURES = os.environ.get("OHMSTEAD_PICTURES", "")
"""A folder that keeps a picture of every screen, where one is named."""


def program() -> str:
    """The browser of this machine."""
    found = next(
        (shutil.which(name) for name in ("chromium", "chromium-browser", "google-chrome") if shutil.which(name)), None
    )
    assert found is not None
    return found


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("skerry.yaml", "skerry-open.yaml", "cabin.yaml", "saltpan.yaml"):
        shutil.copy(samples()[name], tmp_path / name)
    return tmp_path


@pytest.fixture
def server(folder: Path) -> Iterator[str]:
    """The address of the page on the folder."""
    command = [sys.executable, "-m", "ohmstead", "page", str(folder), "--quiet"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as running:
        assert running.stdout is not None
        yield running.stdout.readline().strip().rstrip("/")
        running.kill()


@pytest.fixture(scope="session")
def browser() -> Iterator[object]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        found = driver.chromium.launch(executable_path=program(), args=list(FLAGS))
        yield found
        found.close()


class Window:
    """A window of the browser; what its console complains about fails the test."""

    def __init__(self, browser, server, size, scheme="light"):
        view = {"width": size[0], "height": size[1]}
        manner = {"color_scheme": scheme, "has_touch": size[0] < 600, "reduced_motion": "reduce"}
        self.context = browser.new_context(viewport=view, base_url=server, **manner)
        self.page = self.context.new_page()
        self.page.set_default_timeout(15_000)
        self.complaints = []
        self.page.on("pageerror", lambda fault: self.complaints.append(str(fault)))
        self.page.on("console", lambda said: said.type == "error" and self.complaints.append(said.text))

    def picture(self, name):
        if PICTURES:
            Path(PICTURES).mkdir(parents=True, exist_ok=True)
            self.page.screenshot(path=Path(PICTURES) / f"{name}.png", full_page=True)


@pytest.fixture
def window(browser, server, request):
    made = []

    def open_window(size=(1280, 900), scheme="light"):
        made.append(Window(browser, server, size, scheme))
        return made[-1]

    yield open_window
    for one in made:
        one.context.close()
        assert one.complaints == []
