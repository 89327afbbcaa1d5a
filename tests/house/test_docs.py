"""The documentation hangs together and the README keeps its promises."""

import re
import subprocess
import sys
from pathlib import Path

from house import links
from house.modules import ROOT

README = ROOT / "README.md"


def test_every_relative_link_leads_somewhere() -> None:
    assert [fault for page in links.pages() for fault in links.broken_links(page)] == []


def test_every_page_is_reachable_from_the_index() -> None:
    assert links.unreachable(ROOT / "docs") == []


def test_the_readme_begins_with_the_job_and_two_commands() -> None:
    text = README.read_text(encoding="utf-8")
    title, job = text.split("\n\n")[:2]
    assert title.startswith("# ")
    assert len(job) > 100
    assert not job.startswith(("#", "!", "[", "`"))
    first_code = re.search(r"^```\w*\n(.*?)^```", text, re.M | re.S)
    assert first_code is not None
    assert [line.split("#")[0].strip() for line in first_code[1].splitlines()] == ["make demo", "make test"]


def test_every_make_target_that_is_named_exists() -> None:
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    targets = set(re.findall(r"^([a-z]+):", makefile, re.M))
    named = {t for page in links.pages() for t in re.findall(r"`make ([a-z]+)`", page.read_text(encoding="utf-8"))}
    assert {"demo", "test", "trust", "bench", "pictures"} <= targets
    assert named - targets == set()


def test_the_readme_states_the_cautions() -> None:
    text = README.read_text(encoding="utf-8").lower()
    for caution in ("burn", "measure", "licen", "local"):
        assert caution in text


def test_the_sample_site_of_the_readme_can_be_checked(tmp_path: Path) -> None:
    sample = re.search(r"^```yaml\n(.*?)^```", README.read_text(encoding="utf-8"), re.M | re.S)
    assert sample is not None
    path = tmp_path / "site.yaml"
    path.write_text(sample[1], encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "ohmstead", "check", str(path)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_library_sample_of_the_readme_runs() -> None:
    sample = re.search(r"^```python\n(.*?)^```", README.read_text(encoding="utf-8"), re.M | re.S)
    assert sample is not None
    done = subprocess.run(
        [sys.executable, "-c", sample[1]],
        cwd=ROOT,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip()


def test_faults_are_found(tmp_path: Path) -> None:
    (tmp_path / "index.md").write_text("[a](a.md) [gone](gone.md) `[not](a.link)` [x](a.md#no)", encoding="utf-8")
    (tmp_path / "a.md").write_text("# A page\n[b](b/c.md) [self](#a-page) [web](https://example.org)", "utf-8")
    (tmp_path / "b").mkdir()
    (tmp_path / "b" / "c.md").write_text("![picture](none.svg)\n```\n[code](x.md)\n```\n", encoding="utf-8")
    (tmp_path / "lost.md").write_text("", encoding="utf-8")
    assert links.unreachable(tmp_path) == ["lost.md"]
    assert links.broken_links(tmp_path / "index.md") == [
        "index.md: gone.md does not exist",
        "index.md: a.md#no has no such heading",
    ]
    assert links.broken_links(tmp_path / "a.md") == []
    assert links.broken_links(tmp_path / "b" / "c.md") == ["c.md: none.svg does not exist"]
