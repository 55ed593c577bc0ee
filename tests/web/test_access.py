"""Every page under axe-core (WCAG 2.2 AA), with the keyboard alone, at 400 % and at phone width, light and dark."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, expect

from tests.web.conftest import Served, Watched

AXE = Path(__file__).parent / "axe-4.14.1.min.js"
AXE_SHA256 = "29348999450cdf2849a8e70b7912fc2da85a849da39c0d0d5394f51d4a9ed95c"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
PAGES = (
    "/HD-400@A", "/HD-400@A/HD-402", "/HD-400@A/HD-402/made", "/HD-400@A/HD-402/tools", "/HD-400@A/HD-402/set",
    "/HD-400@A/HD-402/readings", "/HD-400@A/fits", "/HD-400@A/growth", "/HD-400/A..B", "/HD-400@A/HD-402/papers",
    "/HD-400@A/why/HD-402/size/hit-2/free-lip-dia", "/part/402-01/round", "/lot/W07", "/tool/HT-402-S@A",
    "/press/402-03", "/press/999-01", "/HD-400@A/file", "/find?q=HD", "/nothing-here",
)  # fmt: skip


def serious(context: BrowserContext, address: str, path: str) -> list[str]:
    """Faults that axe-core calls serious or critical, each with where it is."""
    page = context.new_page()
    page.goto(address + path)
    page.wait_for_timeout(150)
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("tags => axe.run(document, {runOnly: {type: 'tag', values: tags}})", RULES)
    page.close()
    return [
        f"{path}: {fault['id']}: {fault['help']}: {fault['nodes'][0]['html'][:160]}"
        for fault in found["violations"]
        if fault["impact"] in ("serious", "critical")
    ]


@pytest.fixture(scope="module")
def lens(browser: Browser) -> Iterator[dict[str, BrowserContext]]:
    """Contexts in which a script of the test may run beside the page's own policy."""
    made = {
        theme: browser.new_context(viewport={"width": 1400, "height": 1000}, color_scheme=theme, bypass_csp=True)
        for theme in ("light", "dark")
    }
    yield made
    for context in made.values():
        context.close()


def test_the_instrument_is_the_one_that_was_vendored() -> None:
    assert hashlib.sha256(AXE.read_bytes()).hexdigest() == AXE_SHA256


@pytest.mark.parametrize("path", PAGES)
def test_no_serious_fault(lens: dict[str, BrowserContext], served: Served, path: str) -> None:
    assert serious(lens["light"], served.address, path) == []


@pytest.mark.parametrize("path", ["/HD-400@A", "/part/402-01/round"])
def test_no_serious_fault_in_the_dark(lens: dict[str, BrowserContext], served: Served, path: str) -> None:
    assert serious(lens["dark"], served.address, path) == []


def test_the_instrument_bites(browser: Browser, served: Served) -> None:
    """A page spoilt on purpose is found out."""
    context = browser.new_context(bypass_csp=True)
    page = context.new_page()
    page.goto(served.address + "/HD-400@A")
    page.evaluate(
        "document.documentElement.removeAttribute('lang');document.querySelector('h1').innerHTML = '<a href=\"/\"></a>'"
    )
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("() => axe.run(document)")
    context.close()
    assert {"html-has-lang", "link-name"} <= {fault["id"] for fault in found["violations"]}, json.dumps(
        found["violations"]
    )[:400]


RIGHT = """w => [...document.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > w + 1
&& !e.closest('.scroll,svg')).slice(0, 3).map(e => e.outerHTML.slice(0, 120))"""


@pytest.mark.parametrize(("width", "height"), [(350, 800), (320, 256)], ids=["phone", "400 %"])
def test_nothing_runs_out_sideways(browser: Browser, served: Served, width: int, height: int) -> None:
    """1280 x 1024 at 400 % is 320 x 256; drawings scroll by themselves, the page does not (WCAG 1.4.10)."""
    context = browser.new_context(viewport={"width": width, "height": height})
    page = context.new_page()
    found = {}
    for path in PAGES[:15]:
        page.goto(served.address + path)
        wide = page.evaluate("document.documentElement.scrollWidth")
        if wide > width + 1:
            found[path] = (wide, page.evaluate(RIGHT, width))
    context.close()
    assert found == {}


def test_with_the_keyboard_alone(desk: Watched) -> None:
    """Board to ring, lever moved, working opened, question changed: no pointer."""
    page = desk.page
    page.goto("/HD-400@A")
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.getAttribute('aria-label')") == "HD-402":
            break
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "HD-402"
    page.keyboard.press("Enter")
    page.wait_for_url("**/HD-402/made")
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.id") == "lever-stretch":
            break
    page.keyboard.press("ArrowRight")
    expect(page.locator("#livestate")).to_contain_text("1.52 %", timeout=20_000)
    for _ in range(20):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.dataset.figure || ''") == "free-lip-dia":
            break
    outline = page.evaluate("getComputedStyle(document.activeElement).outlineWidth")
    assert outline == "3px"
    page.keyboard.press("w")
    page.wait_for_selector("#working table")
    page.keyboard.press("Escape")
    page.evaluate("document.activeElement.blur()")
    page.keyboard.press("7")
    page.wait_for_url("**/fits")
    page.keyboard.press("/")
    page.keyboard.type("W07")
    page.keyboard.press("Enter")
    page.wait_for_url("**/lot/W07")


def test_theme_can_be_fixed(desk: Watched) -> None:
    page = desk.page
    page.goto("/HD-400@A")
    for theme in ("light", "dark", "contrast"):
        page.keyboard.press("t")
        page.reload()
        assert page.evaluate("document.documentElement.dataset.theme") == theme
    dark = page.evaluate("getComputedStyle(document.documentElement).backgroundColor")
    assert dark == "rgb(255, 255, 255)"
