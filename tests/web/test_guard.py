"""Who is kept out. The attacks are those that the OWASP cheat sheets describe: DNS rebinding, forged requests,
traversal, oversized bodies (common practice, no source in one place)."""

import pytest

from ohmstead.web.guard import MOST_BODY, Pairing
from web.served import HOST, client, filled, mark


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example:7451", "localhost.", "", "localhost:80"])
def test_another_host_is_refused(tmp_path, host):
    answer = client(filled(tmp_path)).get("/", headers={"host": host})
    assert answer.status_code == 400 and "refused" in answer.text


@pytest.mark.parametrize(
    "headers",
    [
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"sec-fetch-site": "cross-site", "origin": f"http://{HOST}"},
    ],
)
def test_a_forged_change_is_refused(tmp_path, headers):
    page = client(filled(tmp_path))
    before = (tmp_path / "cabin.yaml").read_bytes()
    data = {"mark": mark(page, "cabin.yaml"), "text": "ohmstead: 1\n"}
    assert page.post("/s/cabin.yaml/file", data=data, headers=headers).status_code == 403
    assert (tmp_path / "cabin.yaml").read_bytes() == before


def test_a_foreign_origin_is_refused_where_the_browser_sends_nothing_better(tmp_path):
    page = client(filled(tmp_path))
    del page.headers["sec-fetch-site"]
    assert page.post("/pick", data={"language": "de"}, headers={"origin": "http://evil.example"}).status_code == 403
    assert page.post("/pick", data={"language": "de"}, headers={"origin": f"http://{HOST}"}).status_code == 303


@pytest.mark.parametrize(
    "name",
    [
        "..%2fsecret.yaml",
        "%2e%2e%2fsecret.yaml",
        "..%5csecret.yaml",
        "secret.txt",
        ".hidden.yaml",
        "link.yaml",
        "a%00.yaml",
    ],
)
def test_no_path_leaves_the_folder(tmp_path, name):
    folder = tmp_path / "sites"
    folder.mkdir()
    (tmp_path / "secret.yaml").write_text("hidden treasure")
    (folder / "secret.txt").write_text("hidden treasure")
    (folder / ".hidden.yaml").write_text("hidden treasure")
    (folder / "link.yaml").symlink_to(tmp_path / "secret.yaml")
    page = client(folder)
    answer = page.get(f"/s/{name}/file")
    assert answer.status_code == 404 and "treasure" not in answer.text
    assert "link.yaml" not in page.get("/").text


def test_a_large_body_is_refused(tmp_path):
    page = client(filled(tmp_path))
    assert page.post("/pick", content=b"x" * (MOST_BODY + 1)).status_code == 413


def test_a_large_body_without_a_length_is_refused(tmp_path):
    page = client(filled(tmp_path))

    def pieces():
        for _ in range(MOST_BODY // 65_536 + 2):
            yield b"language=" + b"x" * 65_536

    headers = {"content-type": "application/x-www-form-urlencoded"}
    assert page.post("/pick", content=pieces(), headers=headers).status_code == 413


def test_every_answer_carries_the_policy(tmp_path):
    page = client(filled(tmp_path))
    for path in ("/", "/s/cabin.yaml", "/static/sheet.css", "/nowhere", "/s/none.yaml"):
        policy = page.get(path).headers["content-security-policy"]
        assert "script-src 'self'" in policy and "unsafe" not in policy


def test_no_page_holds_a_script_or_style_in_itself(tmp_path):
    page = client(filled(tmp_path))
    for path in ("/", "/s/cabin.yaml", "/s/cabin.yaml/file", "/s/cabin.yaml/add", "/s/cabin.yaml/sheets"):
        text = page.get(path).text
        assert "<style" not in text and " style=" not in text and "javascript:" not in text and " onclick" not in text
        assert all('src="/static/' in part.split(">")[0] for part in text.split("<script")[1:])


def test_names_are_shown_as_text(tmp_path):
    """Everything that a builder can write is a name to somebody's browser."""
    evil = "<script>alert(1)</script>"
    text = (filled(tmp_path) / "skerry.yaml").read_text()
    assert text.count("ohmstead: 1\n") == 1 and "\n  name: " in text
    lines = [f"  name: '{evil}'" if line.startswith("  name: ") else line for line in text.splitlines()]
    (tmp_path / "evil.yaml").write_text("\n".join([*lines, f"# {evil}", ""]))
    page = client(tmp_path)
    for path in ("", "/file", "/sheets", "/sheets/report.html"):
        answer = page.get(f"/s/evil.yaml{path}")
        assert answer.status_code == 200 and "alert(1)" in answer.text or path == "/sheets"
        assert "<script>alert" not in answer.text


def test_a_stranger_needs_a_code_and_a_code_works_once(tmp_path):
    page = client(filled(tmp_path), token="secret-token")
    assert page.get("/").status_code == 401
    assert page.get("/s/cabin.yaml").status_code == 401
    assert page.get("/pair?code=guess").status_code == 403
    pairing: Pairing = page.app.pairing
    code = pairing.new_code()
    answer = page.get(f"/pair?code={code}")
    assert answer.status_code == 303
    said = answer.headers["set-cookie"].lower()
    assert "httponly" in said and "samesite=strict" in said
    assert page.get("/").status_code == 200
    page.cookies.clear()
    assert page.get(f"/pair?code={code}").status_code == 403


def test_no_traceback_in_an_answer(tmp_path, monkeypatch):
    page = client(filled(tmp_path))
    monkeypatch.setattr("ohmstead.web.pages.supply.pictures", lambda *_: 1 / 0)
    answer = page.get("/s/cabin.yaml")
    assert answer.status_code == 500
    assert "Traceback" not in answer.text and "division" not in answer.text
