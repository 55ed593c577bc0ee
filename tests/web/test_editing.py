"""Editing in the page: same validation, new revision, comments kept, undo; two people on one ring, none overwritten."""

from __future__ import annotations

from collections.abc import Iterator

import httpx
import pytest
from playwright.sync_api import Browser, Page, expect

from tests.web.conftest import Served, watched


@pytest.fixture
def two(browser: Browser, own: Served) -> Iterator[tuple[Page, Page]]:
    """Two people at two desks."""
    contexts = [browser.new_context(viewport={"width": 1400, "height": 900}, base_url=own.address) for _ in range(2)]
    yield watched(contexts[0], own.address).page, watched(contexts[1], own.address).page
    for context in contexts:
        context.close()


def change(page: Page, field: str, value: str, by: str) -> None:
    """Enter one field and save."""
    page.locator(f"[id='{field}']").fill(value)
    page.fill("#by", by)
    page.get_by_role("button", name="Save as a new revision").click()


def test_two_people_on_one_ring(two: tuple[Page, Page], own: Served) -> None:
    first, second = two
    for page in two:
        page.goto("/HD-400@A/HD-402")
    second.wait_for_timeout(800)
    change(first, "thickness_mm", "0.82", "MD")
    first.wait_for_url("**/HD-400@A.1/HD-402")
    assert "sheet 0.82" in first.inner_text("h1")
    # the other desk follows without being loaded again
    expect(second.locator("h1")).to_contain_text("sheet 0.82", timeout=15_000)
    assert second.url.endswith("/HD-400@A.1/HD-402")
    # both enter something; different fields: both saves stand
    second.locator("[id='seam_theta_deg']").fill("140")
    change(first, "thickness_mm", "0.84", "MD")
    first.wait_for_url("**/HD-400@A.2/HD-402")
    expect(second.locator("#news")).to_contain_text("changed by somebody else", timeout=15_000)
    assert second.input_value("[id='seam_theta_deg']") == "140"
    change(second, "seam_theta_deg", "140", "TM")
    second.wait_for_url("**/HD-400@A.3/HD-402")
    ring = own.job.current().liner.ring("HD-402")
    assert (ring.thickness_mm, ring.seam_theta_deg) == (0.84, 140.0)
    # the same field: shown, neither lost
    for page in two:
        page.goto("/HD-400@A.3/HD-402")
    second.locator("[id='control.lip_od.diameter_mm']").fill("247.7")
    change(first, "control.lip_od.diameter_mm", "247.65", "MD")
    first.wait_for_url("**/HD-400@A.4/HD-402")
    change(second, "control.lip_od.diameter_mm", "247.7", "TM")
    expect(second.locator("[role=alert]")).to_contain_text("meanwhile")
    assert "247.65" in second.inner_text("aside")
    assert second.input_value("[id='control.lip_od.diameter_mm']") == "247.7"
    assert own.job.current().liner.ring("HD-402").controls[-1].diameter_mm == 247.65


def test_comments_stay_and_an_undo_brings_back_what_was(own: Served) -> None:
    before = own.job.current()
    with httpx.Client(base_url=own.address, follow_redirects=True, timeout=30.0) as client:
        form = {"base": before.digest, "by": "MD", "thickness_mm": "0,81"}
        answer = client.post("/HD-400@A/HD-402", data=form)
        assert answer.status_code == 200 and answer.url.path == "/HD-400@A.1/HD-402"
        text = (own.job.folder / "liner.toml").read_text(encoding="utf-8")
        old, new = before.text.splitlines(), text.splitlines()
        assert [line for line in old if line.startswith("#")] == [line for line in new if line.startswith("#")]
        assert sum(a != b for a, b in zip(old, new, strict=True)) == 2
        answer = client.post("/HD-400@A.1/HD-402/undo", data={"base": own.job.current().digest})
        assert answer.url.path == "/HD-400@A.2/HD-402"
    assert own.job.current().liner.ring("HD-402").thickness_mm == 0.8
    assert own.job.revisions() == ("A", "A.1", "A.2")
    assert own.job.revision("A.1").liner.ring("HD-402").thickness_mm == 0.81


@pytest.mark.parametrize(
    ("fields", "said"),
    [({"thickness_mm": "-1"}, "thickness_mm"), ({"thickness_mm": "zero"}, "a number"), ({"thickness_mm": "nan"}, ""),
     ({"control.lip_od.diameter_mm": "-3"}, ""), ({"nothing_mm": "1"}, "nothing_mm"), ({"by": ""}, "name")],
)  # fmt: skip
def test_what_is_not_sound_is_not_saved(own: Served, fields: dict[str, str], said: str) -> None:
    before = own.job.current()
    with httpx.Client(base_url=own.address, timeout=30.0) as client:
        answer = client.post("/HD-400@A/HD-402", data={"base": before.digest, "by": "MD", **fields})
    assert answer.status_code == 422
    assert said in answer.text
    assert own.job.current().text == before.text


@pytest.mark.parametrize("place", ["../../outside.dxf", "/etc/passwd"])
def test_a_file_named_in_the_text_is_not_read_outside_the_job(own: Served, place: str) -> None:
    now = own.job.current()
    head, _, rest = now.text.partition("[ring.section]")
    section, _, after = rest.partition("]\n\n[[ring]]")
    assert "chain" in section
    text = f'{head}[ring.section]\nface = "mid"\nstate = "cold"\ndxf = "{place}"\n\n[[ring]]{after}'
    with httpx.Client(base_url=own.address, timeout=30.0) as client:
        answer = client.post("/HD-400@A/file", data={"base": now.digest, "by": "MD", "text": text})
    assert answer.status_code == 422
    assert "root:" not in answer.text
    assert own.job.current().digest == now.digest
