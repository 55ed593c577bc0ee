"""A newcomer opens the demonstration, chooses a ring, moves the stretch, sees size and band, takes the roll's DXF."""

from __future__ import annotations

import re
from pathlib import Path

import ezdxf
from playwright.sync_api import Page, expect

from tests.web.conftest import Watched


def on_the_sheet(page: Page, part: str) -> tuple[float, float]:
    """A place of the window that lies on the drawn sheet of a part."""
    x, y = page.evaluate(
        """part => { const p = document.querySelector(`main svg a[aria-label='${part}'] .hw-touch`);
        const m = p.getScreenCTM(), q = p.getPointAtLength(p.getTotalLength() / 3);
        return [q.x * m.a + m.e, q.y * m.d + m.f]; }""",
        part,
    )
    return x, y


def test_from_board_to_roll_drawing(desk: Watched, tmp_path: Path) -> None:
    page = desk.page
    page.goto("/")
    assert page.url.endswith("/HD-400@A")
    assert "J3 is loose" in page.inner_text("aside")
    page.mouse.click(*on_the_sheet(page, "HD-402"))
    page.wait_for_url("**/HD-402/made")
    before = page.inner_text("[data-figure=close-cut-length]")
    assert page.inner_text("[data-figure=free-lip-dia]") == "247.60"
    assert page.locator(".live svg.gauge").count() >= 2
    page.wait_for_selector("#levers[data-ready]", timeout=20_000)
    page.locator("#lever-stretch").fill("1.3")
    # the full run takes the place of the estimate; the drawing's size stays, the cut length follows
    expect(page.locator("#livestate")).to_contain_text("What if", timeout=20_000)
    after = page.inner_text("[data-figure=close-cut-length]")
    assert after != before
    assert page.inner_text("[data-figure=free-lip-dia]").startswith("247.6")
    assert "1.30 %" in page.inner_text("#livestate")
    assert page.url.endswith("?if=stretch:1.3")
    with page.expect_download() as got:
        page.click("text=inner roll, DXF")
    path = tmp_path / "roll.dxf"
    got.value.save_as(path)
    drawing = ezdxf.readfile(path)
    assert drawing.header["$INSUNITS"] == 4
    assert len(drawing.modelspace()) > 5


def test_a_figure_explains_itself_in_the_margin_and_at_its_address(desk: Watched) -> None:
    page = desk.page
    page.goto("/HD-400@A/HD-402/made")
    page.click("#live a[data-figure=free-lip-dia]")
    page.wait_for_selector("#working table")
    assert "lip od, free" in page.inner_text("#working h2").lower()
    assert re.search(r"247\.\d+", page.inner_text("#working"))
    address = page.locator("#working p a").last.get_attribute("href")
    assert address == "/HD-400@A/why/HD-402/size/hit-2/free-lip-dia"
    page.goto(address)
    assert "247.60" in page.inner_text("h1")


def test_slider_without_script_is_a_plain_form(served_html_client) -> None:  # type: ignore[no-untyped-def]
    text = served_html_client.get("/HD-400@A/HD-402/made?stretch=1.3").text
    assert "What if stretch kept in the ring 1.30" in text
