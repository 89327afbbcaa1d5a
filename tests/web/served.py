"""The page on a folder of copies, called without a network."""

import shutil
from pathlib import Path

from starlette.testclient import TestClient

from ohmstead.web.app import build
from ohmstead.web.guard import Pairing
from ohmstead.web.samples import samples
from ohmstead.web.shelf import Shelf

HOST = "localhost:7451"


def client(folder: Path, token: str = "") -> TestClient:
    """A client that is a browser on the page itself."""
    app = build(Shelf(folder), (HOST,), Pairing(token, 7451))
    found = TestClient(app, base_url=f"http://{HOST}", follow_redirects=False, raise_server_exceptions=False)
    found.headers["sec-fetch-site"] = "same-origin"
    return found


def filled(folder: Path, *names: str) -> Path:
    """A folder with copies of examples."""
    for name in names or ("skerry.yaml", "cabin.yaml"):
        shutil.copy(samples()[name], folder / name)
    return folder


def mark(page: TestClient, file: str) -> str:
    """The checksum that a page of this file carries."""
    return str(page.get(f"/s/{file}/mark").json()["mark"])
