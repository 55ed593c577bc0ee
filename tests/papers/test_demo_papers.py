"""The papers of the demo's seven rings: looked at sheet by sheet, and every figure on them is the plan's."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path

import pypdfium2
import pytest
from dxf_tags import Document, chain, document
from look import outside, smallest_text_mm, text_over_lines, text_over_text

from hoopwright.design.liner_reading import read_liner
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_integrals import region
from hoopwright.papers.numbers import figure_text, written
from hoopwright.papers.pictures.roll_contours import turning_chain
from hoopwright.papers.ring_files import ring_files
from hoopwright.papers.sheet_frame import BOTTOM, LEFT, RIGHT, TOP
from hoopwright.papers.walk_from_plan import walk_content
from hoopwright.papers.walk_sheet import walk_sheets
from hoopwright.plan.ring_plan import RingPlan, plan_ring

DEMO = Path(__file__).resolve().parents[2] / "examples" / "demo" / "liner.toml"
DAY = dt.date(2031, 3, 1)
LINER = read_liner(DEMO)
RINGS = [ring.id for ring in LINER.rings]


class Shop:
    """Plans and files, each made once."""

    def __init__(self) -> None:
        self.plans: dict[str, RingPlan] = {}
        self.files: dict[str, dict[str, bytes]] = {}

    def plan(self, ring: str) -> RingPlan:
        if ring not in self.plans:
            self.plans[ring] = plan_ring(LINER, ring)
        return self.plans[ring]

    def made(self, ring: str) -> dict[str, bytes]:
        if ring not in self.files:
            self.files[ring] = ring_files(self.plan(ring), DAY)
        return self.files[ring]

    def dxf(self, ring: str, what: str) -> Document:
        return document(self.made(ring)[f"{ring}-{what}.dxf"])


@pytest.fixture(scope="module")
def shop() -> Shop:
    return Shop()


def plain(text: str) -> str:
    return re.sub(r"\s+", " ", text.replace("\u00a0", " ").replace("\u202f", " "))


def paper_text(data: bytes) -> str:
    made = pypdfium2.PdfDocument(data)
    text = " ".join(made[k].get_textpage().get_text_range() for k in range(len(made)))
    made.close()
    return plain(text)


@pytest.mark.parametrize("ring", RINGS)
def test_every_sheet_is_clear(shop: Shop, ring: str) -> None:
    for sheet in walk_sheets(walk_content(shop.plan(ring), DAY)):
        assert text_over_text(sheet) == []
        assert text_over_lines(sheet) == []
        assert outside(sheet, (LEFT, BOTTOM, RIGHT, TOP)) == []
        assert smallest_text_mm(sheet) >= 2.95


@pytest.mark.parametrize("ring", RINGS)
def test_figures_on_paper_are_the_plans(shop: Shop, ring: str) -> None:
    plan, text = shop.plan(ring), paper_text(shop.made(ring)[f"{ring}-walk.pdf"])
    content = walk_content(plan, DAY)
    printed = [s.figure for row in content.rows for s in (*row.settings, *row.figures)]
    printed += [s.figure for s in (*content.blank_figures, *content.press)]
    known = {figure.identity: figure for figure in plan.figures}
    assert len(printed) > 40
    for figure in printed:
        assert known[figure.identity].value == figure.value
        assert plain(figure_text(figure, unit=figure.unit != "mm")) in text, figure.identity
    for radius in content.segments.controls if content.segments else ():
        assert written(radius.segment_mm, 3) in text
    assert plan.mark in text and "all data invented" in text


@pytest.mark.parametrize("ring", RINGS)
def test_findings_on_paper_are_the_plans(shop: Shop, ring: str) -> None:
    plan, text = shop.plan(ring), paper_text(shop.made(ring)[f"{ring}-walk.pdf"])
    stops = [f for f in plan.findings if f.level == "stop"]
    assert ("Held back." in text) == bool(stops)
    assert ("released" in text.split("The walk;")[0]) == (not stops)
    assert all(str(k) in text for k in range(1, len(plan.findings) + 1))
    if not plan.proven:
        assert "not yet proven" in text


def test_every_row_shows_where_its_findings_are(shop: Shop) -> None:
    """A finding about a setting or an operation has its mark beside a row."""
    for ring in RINGS:
        content = walk_content(shop.plan(ring), DAY)
        marked = {number for row in content.rows for number in row.findings}
        for number, finding in enumerate(content.findings, start=1):
            if finding.level != "note":
                assert number in marked, (ring, finding.sentence)


@pytest.mark.parametrize("ring", RINGS)
def test_blank_for_the_cutter(shop: Shop, ring: str) -> None:
    plan, read = shop.plan(ring), shop.dxf(ring, "blank")
    cut = [chain(e) for e in read.of_kind("LWPOLYLINE", "CUT")]
    assert len(cut) == 1 and cut[0].closed
    blank, texts = plan.blank, read.dimension_texts()
    if blank.sector is None:
        assert cut[0].area == pytest.approx(blank.length_mm * blank.width_mm, abs=1e-6)
        wanted = ("blank/rough-length", "blank/width", "close/cut-length")
        assert sorted(texts) == sorted(figure_text(plan.figure(w), unit=False) for w in wanted)
    else:
        assert cut[0].area == pytest.approx(blank.sector.area_mm2, rel=1e-9)
        radii = [plan.figure(f"blank/{side}-slant-cut").value for side in ("inner", "outer")]
        assert sorted(cut[0].radii) == pytest.approx(radii, abs=1e-6)
        sizes = {f"R{written(r, 2)}" for r in radii}
        sizes |= {f"{written(plan.figure('blank/sector').value, 2)}°"}
        sizes |= {written(plan.figure("blank/end-allowance").value, 2)}
        assert set(texts) == sizes


@pytest.mark.parametrize("ring", RINGS)
def test_rolls_and_segments_for_the_toolmaker(shop: Shop, ring: str) -> None:
    plan = shop.plan(ring)
    pair = plan.passes.rolls
    for what, contour in (("roll-inner", pair.inner), ("roll-outer", pair.outer)):
        read = shop.dxf(ring, what)
        found = [chain(e) for e in read.of_kind("LWPOLYLINE", "CONTOUR")]
        assert len(found) == 1 and found[0].closed
        assert found[0].area == pytest.approx(region(Profile(turning_chain(contour))).area, rel=1e-9)
    read = shop.dxf(ring, "segments")
    profile = [chain(e) for e in read.of_kind("LWPOLYLINE", "PROFILE")]
    assert len(profile) == 1 and profile[0].closed
    texts = set(read.dimension_texts())
    for control in plan.job.ring.controls:
        word = control.name.split("_")[0]
        assert f"R {written(plan.figure(f'segments/radius-{word}').value, 3)}" in texts
    for name in ("blank", "roll-inner", "roll-outer", "segments"):
        assert shop.dxf(ring, name).header_value("$INSUNITS") == "4"


def test_same_plan_same_bytes(shop: Shop) -> None:
    again = ring_files(plan_ring(LINER, "HD-402"), DAY)
    assert again == shop.made("HD-402")
