"""The server as a process: a slow client, a kill while saving, many clients at once, and the phone's way in."""

import asyncio
import os
import re
import signal
import socket
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from http.client import HTTPConnection
from urllib.parse import urlencode

import pytest

from ohmstead.web import guard
from ohmstead.web.serve import listen
from web.served import client, filled


def start(folder, *more):
    """A server process and the address that it says."""
    running = subprocess.Popen(
        [sys.executable, "-m", "ohmstead", "page", str(folder), "--quiet", *more], stdout=subprocess.PIPE, text=True
    )
    address = running.stdout.readline().strip()
    host, port, path = re.fullmatch(r"http://([\w.]+):(\d+)(/.*)", address).groups()
    return running, host, int(port), path


def call(host, port, method, path, values=None, cookie=""):
    """One request as a program makes it: status, headers, text."""
    line = HTTPConnection(host, port, timeout=30)
    headers = {"content-type": "application/x-www-form-urlencoded", "cookie": cookie}
    line.request(method, path, urlencode(values) if values else None, headers)
    answer = line.getresponse()
    text = answer.read().decode("utf-8", "replace")
    line.close()
    return answer.status, dict(answer.getheaders()), text


def test_a_body_that_stops_coming_is_given_up(tmp_path, monkeypatch):
    monkeypatch.setattr(guard, "PATIENCE_S", 0.2)
    page = client(filled(tmp_path))

    answers = []

    async def never():
        await asyncio.sleep(60)

    async def send(message):
        answers.append(message)

    scope = {
        "type": "http", "method": "POST", "path": "/pick", "raw_path": b"/pick", "query_string": b"", "root_path": "",
        "headers": [(b"host", b"localhost:7451"), (b"content-type", b"application/x-www-form-urlencoded")],
        "scheme": "http", "server": ("localhost", 7451), "client": ("127.0.0.1", 1), "http_version": "1.1",
    }  # fmt: skip
    begun = time.monotonic()
    with ThreadPoolExecutor(1) as elsewhere:  # a browser test in this process keeps a loop of its own running
        elsewhere.submit(asyncio.run, page.app(scope, never, send)).result()
    assert answers[0]["status"] == 408 and time.monotonic() - begun < 30.0


@pytest.mark.skipif(os.name != "posix", reason="kills a process outright")
def test_a_kill_while_saving_leaves_the_old_file_or_the_new_one(tmp_path):
    folder = filled(tmp_path, "cabin.yaml")
    path = folder / "cabin.yaml"
    first = path.read_text()
    texts = {first}
    for turn in range(8):
        running, host, port, _ = start(folder)
        try:
            for number in range(1 + 3 * turn):
                _, _, told = call(host, port, "GET", "/s/cabin.yaml/mark")
                mark = re.search(r'"mark":"(\w+)"', told).group(1)
                text = f"{first}# turn {turn} save {number}\n"
                texts.add(text)
                line = socket.create_connection((host, port))
                body = urlencode({"mark": mark, "text": text}).encode()
                line.sendall(
                    b"POST /s/cabin.yaml/file HTTP/1.1\r\nHost: %s:%d\r\n"
                    b"Content-Type: application/x-www-form-urlencoded\r\nContent-Length: %d\r\n\r\n"
                    % (host.encode(), port, len(body))
                    + body
                )
                if number < 3 * turn:
                    line.recv(64)
                else:
                    time.sleep(0.0007 * turn)
        finally:
            running.send_signal(signal.SIGKILL)
            running.wait()
        assert path.read_text() in texts
    assert path.read_text() != first


def test_many_clients_read_and_write_and_nobody_is_lost(tmp_path):
    """Every save that was acknowledged (303) was the newest text at its moment; a stale one gets 409, never 500."""
    folder = filled(tmp_path, "cabin.yaml")
    running, host, port, _ = start(folder)

    def one(number):
        statuses = []
        for turn in range(3):
            statuses.append(call(host, port, "GET", "/s/cabin.yaml/file")[0])
            mark = re.search(r'"mark":"(\w+)"', call(host, port, "GET", "/s/cabin.yaml/mark")[2]).group(1)
            text = {"mark": mark, "text": (folder / "cabin.yaml").read_text() + f"# {number} {turn}\n"}
            statuses.append(call(host, port, "POST", "/s/cabin.yaml/file", text)[0])
        return statuses

    try:
        with ThreadPoolExecutor(16) as pool:
            found = [status for statuses in pool.map(one, range(16)) for status in statuses]
    finally:
        running.kill()
    assert set(found) <= {200, 303, 409} and found.count(303) > 0
    notes = [line for line in (folder / "cabin.yaml").read_text().splitlines() if re.fullmatch(r"# \d+ \d+", line)]
    assert len(notes) == len(set(notes)) == found.count(303)


def test_a_phone_comes_in_by_the_code_and_a_stranger_does_not(tmp_path):
    folder = filled(tmp_path, "cabin.yaml")
    running, _, port, path = start(folder, "--listen", "0.0.0.0")
    try:
        assert path.startswith("/pair?code=")
        assert call("127.0.0.1", port, "GET", "/")[0] == 401
        status, headers, _ = call("127.0.0.1", port, "GET", path)
        assert status == 303
        cookie = headers["set-cookie"].split(";")[0]
        assert call("127.0.0.1", port, "GET", "/", cookie=cookie)[0] == 200
        assert call("127.0.0.1", port, "GET", path)[0] == 403
        status, _, text = call("127.0.0.1", port, "POST", "/s/cabin.yaml/phone", {"x": "1"}, cookie)
        assert status == 200 and "<svg" in text and "/pair?code=" in text
    finally:
        running.kill()


def test_small_answers_go_out_at_once():
    """A socket that is not named as TCP keeps Nagle's algorithm on, and each answer waits for the other side."""
    sock = listen("127.0.0.1", 0)
    with sock:
        assert sock.proto == socket.IPPROTO_TCP
