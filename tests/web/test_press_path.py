"""At the press: cautions, label, stop, reading; with the network cut and back; superseded sets and wrong serials."""

from __future__ import annotations

import itertools
import time
from collections.abc import Iterator

import httpx
import pytest
from playwright.sync_api import Browser, Page, expect

from hoopwright.desk.page.press import reads_of
from hoopwright.desk.page.store import store_of
from hoopwright.records.making import Operation, Reading
from tests.web.conftest import Served, Watched, watched


@pytest.fixture
def tablet(browser: Browser, own: Served) -> Iterator[Watched]:
    """A tablet of 1280 x 800 at the press."""
    context = browser.new_context(viewport={"width": 1280, "height": 800}, base_url=own.address)
    yield watched(context, own.address)
    context.close()


def enter(page: Page, digits: str) -> None:
    """Type on the number pad."""
    page.get_by_role("button", name="Hit made").click()
    for digit in digits:
        page.locator("#pad").get_by_role("button", name=digit, exact=True).click()
    page.get_by_role("button", name="Enter this reading").click()


def test_two_hits_one_of_them_while_the_network_is_away(tablet: Watched, own: Served) -> None:
    page = tablet.page
    page.goto("/press/402-06")
    assert "holds energy" in page.inner_text("#s-cautions")
    page.wait_for_selector("body[data-offline=ready]", timeout=20_000)
    page.reload()
    page.get_by_role("button", name="Read: go on").click()
    page.get_by_role("button", name="HT-402-S revision A").click()
    stop = float(page.inner_text("#stop"))
    assert page.locator("#s-main").is_visible()
    page.context.set_offline(True)
    enter(page, "24739")
    expect(page.locator("#sync")).to_contain_text("1 record to send")
    second = float(page.inner_text("#stop"))
    assert 0.3 < second - stop < 1.5
    assert "second hit" in page.inner_text("#hitwords")
    # the battery dies: what was entered is on the tablet, and the card opens without the network
    page.reload()
    expect(page.locator("#sync")).to_contain_text("1 record to send")
    assert reads_of(own.job, "402-06", "lip_od") == ()
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator("#sync")).to_have_text("stored at the desk", timeout=15_000)
    read = reads_of(own.job, "402-06", "lip_od")
    assert [(r.free_mm, r.stop_mm) for r in read] == [(247.39, stop)]
    page.get_by_role("button", name="Read: go on").click()
    page.get_by_role("button", name="HT-402-S revision A").click()
    assert float(page.inner_text("#stop")) == pytest.approx(second, abs=0.03)
    enter(page, "24760")
    expect(page.locator("#donehead")).to_contain_text("402-06 is to size", timeout=15_000)
    expect(page.locator("#sync")).to_have_text("stored at the desk", timeout=15_000)
    page.get_by_role("button", name="Undo").click()
    until = time.monotonic() + 15.0
    while len(reads_of(own.job, "402-06", "lip_od")) > 1 and time.monotonic() < until:
        page.wait_for_timeout(50)
    assert [r.free_mm for r in reads_of(own.job, "402-06", "lip_od")] == [247.39]
    store = store_of(own.job)
    assert len(store.list(Reading, serial="402-06")) == 2
    assert len(store.list(Operation, serial="402-06")) == 2


def test_a_superseded_set_and_a_set_of_another_ring_are_refused(tablet: Watched) -> None:
    page = tablet.page
    page.goto("/press/402-07")
    page.get_by_role("button", name="Read: go on").click()
    page.get_by_role("button", name="HT-402-S0").click()
    assert page.inner_text("#refusedhead") == "Not this segment set."
    assert "superseded" in page.inner_text("#refusedtext")
    assert "take HT-402-S" in page.inner_text("#refuseddo")
    page.get_by_role("button", name="Read another label").click()
    page.fill("#label", "ht-403-s")
    page.get_by_role("button", name="Take this number").click()
    assert "not for HD-402" in page.inner_text("#refusedtext")
    assert not page.locator("#s-main").is_visible()


def test_a_wrong_serial_and_a_rejected_one_are_refused(tablet: Watched) -> None:
    page = tablet.page
    page.goto("/press/999-01")
    assert page.inner_text("h1") == "Not this ring."
    page.goto("/press/402-04")
    page.get_by_role("button", name="Read: go on").click()
    assert "402-04 is rejected" in page.inner_text("#refusedhead")
    assert "lot W07" in page.inner_text("#refusedtext")


def test_targets_are_large_enough_for_gloves(tablet: Watched) -> None:
    """20 mm in both directions at 6 px a mm, 2.5 mm apart (interface paper, section 10)."""
    page = tablet.page
    page.goto("/press/402-08")
    page.get_by_role("button", name="Read: go on").click()
    page.get_by_role("button", name="HT-402-S revision A").click()
    # the card is drawn anew when its answer comes: measure the buttons that stay, all in one look
    page.wait_for_load_state("networkidle")
    expect(page.locator("#btns button").nth(2)).to_be_visible()
    boxes = page.evaluate(
        "() => [...document.querySelectorAll('#btns button')].map(b => b.getBoundingClientRect().toJSON())"
    )
    assert len(boxes) >= 3
    assert all(box is not None and box["width"] >= 120 and box["height"] >= 120 for box in boxes)
    gaps = [b["x"] - a["x"] - a["width"] for a, b in itertools.pairwise(boxes) if a and b and a["y"] == b["y"]]
    assert all(gap >= 15 for gap in gaps)


def hit(**changes: object) -> dict[str, object]:
    """A sound hit, as a tablet sends it."""
    sound = {
        "id": "0123456789abcdef", "serial": "402-09", "control": "lip_od", "segment_set": "HT-402-S", "stop_mm": 39.85,
        "free_mm": 247.4, "by": "press", "at": "2031-03-01T08:40:00Z",
    }  # fmt: skip
    return sound | changes


def test_the_server_takes_a_hit_once_and_refuses_what_does_not_fit(own: Served) -> None:
    with httpx.Client(base_url=own.address) as client:
        first, second = (client.post("/api/records/hits", json=hit()).json() for _ in range(2))
        assert (first["again"], second["again"]) == (False, True)
        assert len(reads_of(own.job, "402-09", "lip_od")) == 1
        for changes in (
            {"segment_set": "HT-402-S0", "id": "0123456789abcde0"},
            {"segment_set": "HT-403-S", "id": "0123456789abcde1"},
            {"serial": "999-01", "id": "0123456789abcde2"}, {"free_mm": 24.7, "id": "0123456789abcde3"},
            {"free_mm": 247.5}, {"stop_mm": -1, "id": "0123456789abcde4"}, {"id": "../../etc"}, {"extra": 1},
        ):  # fmt: skip
            answer = client.post("/api/records/hits", json=hit(**changes))
            assert answer.status_code == 422, changes
            assert answer.json()["faults"][0]["what"]
        over = client.post("/api/records/hits", json=hit(segment_set="HT-402-S0", id="0123456789abcde5", over=True))
        assert over.status_code == 200
        assert any("over its refusal" in o.thing.note for o in store_of(own.job).list(Operation, serial="402-09"))
