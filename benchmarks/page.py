"""The local page: a slider's move until it is drawn, the first paint, the weight of a page, fifty clients at once.

Reference in the same run: the slider's move against one request for an empty static file from the same server.
"""

import gzip
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlencode

EXAMPLE = Path(__file__).parent.parent / "examples" / "skerry" / "skerry.yaml"
MOVES, CLIENTS, SECONDS = 60, 50, 60.0
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update"]
PARTS_OF_A_PAGE = ("/s/skerry.yaml", "/static/sheet.css", "/static/shell.js", "/static/drawing.js",
                   "/static/vendored/htmx.min.js", "/static/mark.svg")  # fmt: skip


def ninety_five(values):
    """The 95th percentile."""
    return sorted(values)[int(0.95 * (len(values) - 1))]


def fetch(port, path, method="GET", values=None):
    """Status and body of one request."""
    line = HTTPConnection("localhost", port, timeout=30)
    line.request(
        method, path, urlencode(values) if values else None, {"content-type": "application/x-www-form-urlencoded"}
    )
    answer = line.getresponse()
    body = answer.read()
    line.close()
    return answer.status, body


def in_the_browser(port):
    """Milliseconds from a slider's move to the drawn result, and to the first paint of the page."""
    from playwright.sync_api import sync_playwright

    program = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))))
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=program, args=FLAGS)
        page = browser.new_page()
        page.goto(f"http://localhost:{port}/s/skerry.yaml")
        paint = page.evaluate("performance.getEntriesByName('first-contentful-paint')[0].startTime")
        for move in range(1, MOVES + 1):
            page.locator("input[name=battery]").fill(str(1 + move))
            page.locator(f"body[data-drawn='{move}']").wait_for(state="attached")
        took = page.evaluate(
            "performance.getEntriesByType('mark').filter((m) => m.name.startsWith('drawn-'))"
            ".map((m) => m.startTime - performance.getEntriesByName(m.name.replace('drawn', 'asked'))[0].startTime)"
        )
        browser.close()
    return took[5:], paint


def one_client(port, number, until):
    """Reads and now and then saves; times and statuses."""
    found = []
    while time.monotonic() < until:
        begun = time.monotonic()
        if number % 10 == 0:
            mark = re.search(rb'"mark":"(\w+)"', fetch(port, "/s/cabin.yaml/mark")[1]).group(1).decode()
            text = f"{CABIN}# {number} {begun}\n"
            status, _ = fetch(port, "/s/cabin.yaml/file", "POST", {"mark": mark, "text": text})
        else:
            status, _ = fetch(port, f"/s/skerry.yaml/moment?battery={number}")
        found.append((1000 * (time.monotonic() - begun), status))
        time.sleep(0.5)  # a hand is not faster
    return found


CABIN = (EXAMPLE.parent.parent / "cabin" / "cabin.yaml").read_text(encoding="utf-8")


def main():
    """Print the figures."""
    with tempfile.TemporaryDirectory() as folder:
        shutil.copy(EXAMPLE, folder)
        Path(folder, "cabin.yaml").write_text(CABIN, encoding="utf-8")
        begun = time.monotonic()
        command = [sys.executable, "-m", "ohmstead", "page", folder, "--quiet"]
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as running:
            port = int(running.stdout.readline().strip().rstrip("/").rpartition(":")[2])
            fetch(port, "/s/skerry.yaml")
            first_ms = 1000 * (time.monotonic() - begun)
            empty = statistics.median(timed(port, "/static/mark.svg") for _ in range(50))
            moment = statistics.median(timed(port, "/s/skerry.yaml/moment?battery=33") for _ in range(50))
            took, paint = in_the_browser(port)
            weight = sum(len(gzip.compress(fetch(port, path)[1])) for path in PARTS_OF_A_PAGE)
            with ThreadPoolExecutor(CLIENTS) as pool:
                until = time.monotonic() + SECONDS
                found = [one for many in pool.map(lambda n: one_client(port, n, until), range(CLIENTS)) for one in many]
            running.kill()
    print(f"command to the first page served            {first_ms:8.0f} ms")
    print(f"first paint in the browser, server running  {paint:8.0f} ms")
    print(f"static file                                 {empty:8.2f} ms")
    print(f"a moment solved and answered                {moment:8.2f} ms   {moment / empty:6.1f} times that")
    print(f"slider moved to drawn, median               {statistics.median(took):8.1f} ms")
    slow = ninety_five(took)
    print(f"slider moved to drawn, 95th percentile      {slow:8.1f} ms   {slow / empty:6.1f} times that")
    print(f"weight of the supply page, compressed       {weight / 1000:8.1f} kB")
    times, faults = [ms for ms, _ in found], [status for _, status in found if status not in (200, 303, 409)]
    print(f"{CLIENTS} clients for {SECONDS:.0f} s: {len(found)} requests, {len(faults)} errors, "
          f"95th percentile {ninety_five(times):.0f} ms")  # fmt: skip


def timed(port, path):
    """Milliseconds of one request."""
    begun = time.monotonic()
    fetch(port, path)
    return 1000 * (time.monotonic() - begun)


if __name__ == "__main__":
    main()
