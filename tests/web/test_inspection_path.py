"""In the inspection room: readings pasted, diagnosis and correction out; faulty tables are named and store nothing."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from hoopwright.desk.page.store import store_of
from hoopwright.records.making import Reading
from tests.web.conftest import Served, Watched, watched


@pytest.fixture
def room(browser: Browser, own: Served) -> Iterator[Watched]:
    """A desk in the inspection room."""
    context = browser.new_context(viewport={"width": 1400, "height": 1000}, base_url=own.address)
    found = watched(context, own.address)
    yield found
    context.close()
    assert [f for f in found.faults if "422" not in f] == []


def turn(lobes_mm: float, count: int = 8, readings: int = 36, crest_deg: float = 0.0) -> str:
    """A table of a turn: oval, lobes of a set that stood off, and the gauge's scatter."""
    noise = random.Random(5)
    rows = ["angle_deg\tdeviation_mm"]
    for k in range(readings):
        a = 360.0 * k / readings
        wave = 0.2 * math.cos(math.radians(2 * (a - 30.0))) + lobes_mm * math.cos(math.radians(count * (a - crest_deg)))
        rows.append(f"{a:.1f}\t{wave + noise.gauss(0.0, 0.005):.3f}".replace(".", ","))
    return "\n".join(rows)


def test_readings_in_diagnosis_and_correction_out(room: Watched, own: Served) -> None:
    page = room.page
    page.goto("/HD-400@A/HD-402/readings")
    page.fill("#serial", "402-11")
    page.select_option("#segment_set", "HT-402-S0")
    page.fill("#table", turn(0.055))
    page.fill("#by", "QE")
    page.get_by_role("button", name="Take these readings").click()
    page.wait_for_url("**/part/402-11/round")
    answer = page.inner_text("h1")
    assert "Eight lobes" in answer and "HT-402-S0" in answer and "HT-402-S can save it" in answer
    assert "wrong" in page.inner_text("aside").lower() or "superseded" in page.inner_text("aside")
    assert page.locator("main svg[aria-label*='roundness on 8 segments']").count() == 1
    kept = store_of(own.job).list(Reading, serial="402-11", what="roundness")
    assert len(kept) == 1 and len(kept[0].thing.series) == 72


def test_the_demonstration_s_own_reading(room: Watched) -> None:
    """Story 5: 0.577 less the first wave, 0.170 less two, 0.057 in the eighth; segments stood 1.83 off, ours 1.82.

    Ours keeps every reading but weighs it (two-stage fit); the story fits all twelve waves alike.
    """
    page = room.page
    page.goto("/part/402-01/round")
    text = page.inner_text("main")
    assert all(number in page.content() for number in ("0.577", "0.170", "0.057"))
    assert "1.82" in text


def test_a_faulty_table_is_named_line_by_line_and_stores_nothing(room: Watched, own: Served) -> None:
    page = room.page
    page.goto("/HD-400@A/HD-402/readings")
    page.fill("#serial", "402-12")
    page.fill("#by", "QE")
    page.fill("#table", "angle_deg,deviation_mm\n0,0.1\n10,zero\n20,0.2\n30,\n40,0.1\n50,0.3\n")
    page.get_by_role("button", name="Take these readings").click()
    expect(page.locator("[role=alert]")).to_be_visible()
    said = page.inner_text("[role=alert]")
    assert "line 3" in said and "zero" in said and "line 5" in said
    assert page.input_value("#serial") == "402-12"
    assert "10,zero" in page.input_value("#table")
    assert store_of(own.job).list(Reading, serial="402-12") == ()
