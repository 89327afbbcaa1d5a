"""Readings through the page: stored before they are acknowledged, once however often they are sent."""

import base64

import pytest

from ohmstead.bench.store import store_path, view_store
from web.served import client, filled

PIXEL = base64.b64decode(
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="
)


@pytest.fixture
def bench(tmp_path):
    page = client(filled(tmp_path, "cabin.yaml"))
    plan = page.get("/s/cabin.yaml/bench/steps").json()
    return page, tmp_path / "cabin.yaml", plan


def sent(plan, step, text, token, **more):
    return {"revision": plan["revision"], "step": step["id"], "text": text, "who": "Ada", "token": token, **more}


def numeric(plan):
    return next(step for step in plan["steps"] if step["asks"] == "number" and step["expected"] and step["unit"] == "V")


def kept(path):
    with view_store(store_path(path)) as store:
        return store.entries()


def test_the_expected_value_is_good_and_half_of_it_stops(bench):
    page, path, plan = bench
    step = numeric(plan)
    volts = float(step["expected"].split()[0])
    told = page.post("/s/cabin.yaml/bench/reading", json=sent(plan, step, f"{volts}", "a")).json()
    assert told["word"] == "good"
    told = page.post(
        "/s/cabin.yaml/bench/reading", json=sent(plan, step, f"{volts / 2:.2f}".replace(".", ","), "b")
    ).json()
    assert told["word"] == "stop" and told["causes"]
    assert [entry.reading.value for entry in kept(path)] == [pytest.approx(volts / 2, abs=0.006)]


def test_the_same_reading_sent_again_is_kept_once(bench):
    page, path, plan = bench
    step = numeric(plan)
    first = page.post("/s/cabin.yaml/bench/reading", json=sent(plan, step, "12", "same"))
    again = page.post("/s/cabin.yaml/bench/reading", json=sent(plan, step, "12", "same"))
    assert first.json() == again.json() and len(kept(path)) == 1


def test_a_photo_stays_with_its_reading(bench):
    page, path, plan = bench
    picture = {"name": "crimp.png", "data": base64.b64encode(PIXEL).decode()}
    body = sent(plan, numeric(plan), "12", "p", picture=picture)
    assert page.post("/s/cabin.yaml/bench/reading", json=body).status_code == 200
    assert page.post("/s/cabin.yaml/bench/reading", json=body).status_code == 200
    assert kept(path)[0].pictures == 1


@pytest.mark.parametrize(("text", "status"), [("twelve", 422), ("12 A", 422), ("", 422)])
def test_what_is_no_reading_is_told_and_not_kept(bench, text, status):
    page, path, plan = bench
    answer = page.post("/s/cabin.yaml/bench/reading", json=sent(plan, numeric(plan), text, "x"))
    assert answer.status_code == status and answer.json()["problem"]
    assert kept(path) == ()


@pytest.mark.parametrize("body", [b"", b"[]", b"{", b'"text"', b"null"])
def test_anything_else_than_a_reading_is_refused(bench, body):
    page, path, plan = bench
    answer = page.post("/s/cabin.yaml/bench/reading", content=body, headers={"content-type": "application/json"})
    assert answer.status_code == 400


def test_an_unknown_step_and_an_older_plan_are_refused(bench):
    page, path, plan = bench
    step = numeric(plan)
    assert page.post("/s/cabin.yaml/bench/reading", json=sent(plan, {"id": "no.such"}, "1", "u")).status_code == 404
    old = sent({**plan, "revision": "0" * 64}, step, "12", "o")
    assert page.post("/s/cabin.yaml/bench/reading", json=old).status_code == 409


def test_a_step_is_skipped_with_a_reason(bench):
    page, path, plan = bench
    body = sent(plan, numeric(plan), "", "s", skipped="no clamp here")
    assert page.post("/s/cabin.yaml/bench/reading", json=body).json()["word"] == "skipped"
    again = page.get("/s/cabin.yaml/bench/steps").json()
    answered = [step for step in again["steps"] if step["answered"]]
    assert [step["answered"]["shown"] for step in answered] == ["no clamp here"]


def test_a_full_disk_leaves_the_reading_in_the_browser(bench, monkeypatch):
    """The answer says that it was not taken (503), so that the browser keeps it and sends it again."""
    from ohmstead.bench.store import Store

    page, path, plan = bench
    body = sent(plan, numeric(plan), "12", "f")
    with monkeypatch.context() as patch:
        patch.setattr(Store, "add", lambda self, reading: (_ for _ in ()).throw(self.full()))
        patch.setattr(Store, "full", lambda self: _full(path), raising=False)
        answer = page.post("/s/cabin.yaml/bench/reading", json=body)
        assert answer.status_code == 503 and answer.json()["kept"] is False
    assert page.post("/s/cabin.yaml/bench/reading", json=body).status_code == 200
    assert len(kept(path)) == 1


def _full(path):
    from ohmstead.bench.faults import DiskFull, fault

    return fault(DiskFull, str(path), "full")
