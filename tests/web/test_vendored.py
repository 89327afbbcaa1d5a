"""Scripts of others are the very bytes that their package ships, with their licence, and load nothing from afar."""

import re
from hashlib import sha256
from importlib.resources import files
from tomllib import loads

STATIC = files("ohmstead.web").joinpath("static")
VENDORED = STATIC.joinpath("vendored")


def test_checksums_and_licences():
    listed = loads(VENDORED.joinpath("manifest.toml").read_text(encoding="utf-8"))["script"]
    for script in listed:
        data = VENDORED.joinpath(script["file"]).read_bytes()
        assert sha256(data).hexdigest() == script["sha256"]
        assert len(VENDORED.joinpath(script["licence_file"]).read_text(encoding="utf-8")) > 200
    known = {script["file"] for script in listed} | {script["licence_file"] for script in listed} | {"manifest.toml"}
    assert {path.name for path in VENDORED.iterdir()} == known


def test_nothing_is_loaded_from_afar():
    for folder in (STATIC, VENDORED, files("ohmstead.web").joinpath("templates")):
        for path in folder.iterdir():
            if path.is_file() and path.name.endswith((".js", ".css", ".html")):
                text = path.read_text(encoding="utf-8")
                assert not re.search(r"(src|href|url\(|import)[\s=(]*[\"']?(https?:)?//", text), path.name
