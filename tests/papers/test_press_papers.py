"""Papers of the pressed plate: what must be on them is on them, drawings are true to size, the same plan same bytes."""

from __future__ import annotations

import datetime as dt
import io
import math

import ezdxf
import pypdfium2
import pytest

from hoopwright.papers.press.files import plan_papers, tool_papers
from hoopwright.papers.press.pictures import hole_places, sheet_outline
from hoopwright.plan.plate.plate_plan import PlatePlan
from hoopwright.plan.plate.plate_tools import PlateTools, plate_tools
from hoopwright.plan.tool_making import tool_room_shelf

DAY = dt.date(2031, 3, 1)


@pytest.fixture(scope="module")
def tools(plate_plan: PlatePlan) -> PlateTools:
    return plate_tools(plate_plan, tool_room_shelf())


@pytest.fixture(scope="module")
def papers(plate_plan: PlatePlan) -> dict[str, bytes]:
    return plan_papers(plate_plan, DAY)


def text_of(content: bytes) -> str:
    document = pypdfium2.PdfDocument(content)
    pages = [document[k].get_textpage().get_text_bounded() for k in range(len(document))]
    document.close()
    return " ".join(" ".join(pages).split()).replace("\u2212", "-")


def test_pressing_plan_says_what_is_done(papers: dict[str, bytes], plate_plan: PlatePlan) -> None:
    said = text_of(papers["HD-420-pressing-plan.pdf"])
    for words in (
        "Ø 262.90",
        "Ø 99.14",
        "17.345",
        "17.717",
        "17.447",
        "91.09",
        "Ream and deburr",
        "974 kN with margin",
    ):
        assert words in said, words
    assert "2 Presses close on hands." in said and "14 A computed pass is no release." in said
    for finding in plate_plan.findings:
        assert finding.sentence.split(";")[0][:40] in said
    assert "kN kN" not in said and "demonstration, all data invented" in said


def test_tool_sheets_carry_sizes_points_and_the_caution(tools: PlateTools) -> None:
    for kind, words in (("D", ("2.003 mm", "Pad punch", "Plunger")), ("F", ("237.004 mm", "Outer die", "Holder"))):
        said = text_of(tool_papers(tools, kind, DAY)[f"HD-420-{kind}.pdf"])
        assert "Presses close on hands." in said and "58 to 62" in said
        for word in words:
            assert word in said, word


def test_try_out_record_has_the_window(papers: dict[str, bytes], plate_plan: PlatePlan) -> None:
    said = text_of(papers["HD-420-press-try-out.pdf"])
    for key in ("press-pads/holder-low", "press-flanges/holder-high"):
        assert f"{plate_plan.figure(key).value:.1f} kN" in said
    assert "Draw-in of the outer edge" in said


def test_blank_for_the_cutter_is_true_to_size(papers: dict[str, bytes], plate_plan: PlatePlan) -> None:
    drawing = ezdxf.read(io.StringIO(papers["HD-420-blank.dxf"].decode()))
    found = []
    for entity in drawing.modelspace().query('*[layer=="CUT"]'):
        assert entity.dxftype() in ("CIRCLE", "LWPOLYLINE", "ARC"), entity.dxftype()
        if entity.dxftype() == "LWPOLYLINE":
            xs, ys = zip(*((p[0], p[1]) for p in entity.get_points()), strict=True)
            assert entity.closed
            found.append((0.5 * (min(xs) + max(xs)), sum(ys) / len(ys), 0.5 * (max(xs) - min(xs))))
        else:
            found.append((entity.dxf.center.x, entity.dxf.center.y, entity.dxf.radius))
    radii = sorted(r for _, _, r in found)
    setting, port = plate_plan.flanges.setting, plate_plan.port
    assert port is not None
    assert radii[-1] == pytest.approx(setting.blank_outer, abs=1e-6)
    assert radii[-2] == pytest.approx(setting.blank_inner, abs=1e-6)
    assert radii[:9] == pytest.approx([port.solved.setting.hole_radius] * 9, abs=1e-6)
    holes = [f for f in found if f[2] < 10.0]
    for _, x, y in hole_places(plate_plan):
        assert min(math.dist((x, y), h[:2]) for h in holes) < 1e-6


def test_turned_parts_for_the_lathe_are_closed(tools: PlateTools) -> None:
    for kind in tools.kinds:
        for name, content in tool_papers(tools, kind, DAY).items():
            if name.endswith(".dxf"):
                drawing = ezdxf.read(io.StringIO(content.decode()))
                outlines = drawing.modelspace().query('LWPOLYLINE[layer=="CONTOUR"]')
                assert len(outlines) == 1 and outlines[0].closed, name


def test_same_plan_same_bytes(papers: dict[str, bytes], plate_plan: PlatePlan) -> None:
    assert plan_papers(plate_plan, DAY) == papers


def test_sheet_outline_is_one_sheet_thick(plate_plan: PlatePlan) -> None:
    section = plate_plan.flanges.closed.last.step.record.shut
    chain = sheet_outline(section)
    # area by the shoelace formula against thickness times length
    points = [s.start for s in chain]
    area = 0.5 * abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1], strict=True)))
    assert area == pytest.approx(float(section.thickness_mm @ section.lengths_mm()), rel=0.002)
