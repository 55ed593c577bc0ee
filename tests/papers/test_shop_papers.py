"""The shop's sheets: looked at, read back from their text, held back by stops; DXF and tables against the plan."""

from __future__ import annotations

import datetime as dt
import io
import math
import sys
from dataclasses import replace
from pathlib import Path as FilePath

import openpyxl
import pytest
from dxf_tags import chain, document
from look import beyond_column, outside, smallest_text_mm, text_over_lines, text_over_text
from test_demo_papers import paper_text, plain

from hoopwright.design.demo import demo_liner
from hoopwright.desk.paper_names import PAPER_NAMES
from hoopwright.errors import InputError
from hoopwright.findings import Finding
from hoopwright.kernels.profile_integrals import region
from hoopwright.papers.drawing.expand import expand
from hoopwright.papers.drawing.items import Drawing, Item, LinearDimension, Path, Placed, RadiusDimension
from hoopwright.papers.drawing.strokes import Words, flat
from hoopwright.papers.dxf_tools import pin_dxf, tool_dxfs
from hoopwright.papers.numbers import band_text, figure_text, written
from hoopwright.papers.pictures.segments import polar_drawing
from hoopwright.papers.sheet_frame import BOTTOM, FOOT_MM, INNER_LEFT, INNER_RIGHT, LEFT, RIGHT, TOP
from hoopwright.papers.shop.kit import findings_on, pages, paper_pdf, title_of
from hoopwright.papers.shop.register import PAPERS, paper_of
from hoopwright.papers.shop.tool_plan import tool_plan_pages, tool_plan_pdf
from hoopwright.papers.shop.views import set_view
from hoopwright.papers.tables_xlsx import Formula, put, tables_xlsx
from hoopwright.plan.liner_plan import plan_liner
from hoopwright.plan.liner_tools import LinerTools, tools_of_liner
from hoopwright.plan.ring_plan import plan_ring
from hoopwright.plan.ring_tools import RingTools, pull_never_above_kN, tools_of
from hoopwright.plan.tool_making import tool_room_shelf

sys.path.insert(0, str(FilePath(__file__).parent.parent / "tools"))
from demo_tools import tools

sys.path.insert(0, str(FilePath(__file__).parent.parent / "design"))
from random_rings import random_liner

DAY = dt.date(2031, 3, 1)
RINGS = ("HD-401", "HD-402", "HD-403", "HD-404", "HD-411", "HD-412", "HD-413")


ROOM_MM = 0.15
"""Least room round all lettering: half the width of the widest pen."""


def text_of(made: RingTools, name: str) -> str:
    return paper_text(paper_pdf(made, paper_of(made, name), DAY))


def test_names_of_the_desk_are_the_registers() -> None:
    assert tuple(PAPERS) == PAPER_NAMES
    with pytest.raises(InputError, match="machine-card"):
        paper_of(tools("HD-402"), "no-such")


@pytest.mark.parametrize("ring", RINGS)
def test_every_sheet_is_clear(ring: str) -> None:
    made = tools(ring)
    for name in PAPERS:
        sheets = pages(made, paper_of(made, name), DAY)
        for number, sheet in enumerate(sheets, start=1):
            place = (ring, name, number)
            assert text_over_text(sheet, ROOM_MM) == [], place
            assert text_over_lines(sheet, room_mm=ROOM_MM) == [], place
            assert beyond_column(sheet, INNER_LEFT, INNER_RIGHT, BOTTOM + FOOT_MM) == [], place
            assert outside(sheet, (LEFT, BOTTOM, RIGHT, TOP)) == [], place
            assert smallest_text_mm(sheet) >= 2.95, place


@pytest.mark.parametrize("name", PAPER_NAMES)
def test_head_foot_and_cautions_of_a_sheet(name: str) -> None:
    made = tools("HD-402")
    paper = paper_of(made, name)
    text = text_of(made, name)
    count = len(pages(made, paper, DAY))
    assert f"1 of {count}" in text and f"{count} of {count}" in text
    assert made.plan.mark in text and "2031-03-01" in text and "all data invented" in text
    assert "HD-400 A" in text and "A computed pass is no release" in text
    stops = [f for f in findings_on(made, paper) if f.level == "stop"]
    assert all(word in text for word in ("made", "checked", "released")) == (not stops)


def placed_dimensions(sheet: Drawing) -> list[tuple[float, int]]:
    """Every dimension on a sheet with what its geometry says and its decimals."""
    found: list[tuple[float, int]] = []

    def walk(items: tuple[Item, ...]) -> None:
        for item in items:
            if isinstance(item, Placed):
                walk(item.drawing.items)
            elif isinstance(item, LinearDimension):
                found.append((item.measured_mm if item.value_mm is None else item.value_mm, item.digits))
            elif isinstance(item, RadiusDimension):
                found.append((item.radius_mm, item.digits))

    walk(sheet.items)
    return found


@pytest.mark.parametrize("name", PAPER_NAMES)
def test_every_dimension_is_in_the_text_of_the_pdf(name: str) -> None:
    for ring in ("HD-402", "HD-404"):
        made = tools(ring)
        text = text_of(made, name)
        for sheet in pages(made, paper_of(made, name), DAY):
            for value, digits in placed_dimensions(sheet):
                assert written(value, digits) in text, (ring, name, value)


@pytest.mark.parametrize("ring", RINGS)
def test_sizes_on_the_drawings_are_the_plans(ring: str) -> None:
    made = tools(ring)
    plan, form, wire = made.plan, made.parts.form, made.wire
    ground = text_of(made, "set-ground")
    for figure in plan.figures:
        if "/segments/radius-" in figure.identity:
            assert written(figure.value, 3) in ground, figure.identity
    assert f"{form.count} × {written(plan.figure('segments/slot').value, 1)}" in ground
    cut = text_of(made, "set-wire")
    assert all(written(p.offset_mm, 3) in cut and written(p.finish_mm, 3) in cut for p in wire.passes)
    blank = text_of(made, "set-blank")
    assert written(form.height_mm, 2) in blank and f"R {written(form.bore_mm, 3)}" in blank
    rolls = text_of(made, "roll-pair")
    for contour in (plan.passes.rolls.inner, plan.passes.rolls.outer):
        assert all(written(s.start[1], 3) in rolls for s in contour.segments)
    card = text_of(made, "machine-card")
    assert all(written(stop.stop_mm, 2) in card for stop in plan.settings.stops)
    for row in plan.sizing.table:
        assert all(written(d, 2) in card for d in (*row.loaded_mm, *row.free_mm))
    holes = text_of(made, "trim-holes")
    assert all(f"{written(r.from_seam_deg, 2)}°" in holes for r in plan.holes.rows)
    definition = text_of(made, "definition")
    assert all(written(c.diameter_mm, 2) in definition for c in plan.job.ring.controls)


@pytest.mark.parametrize("ring", RINGS)
def test_sizes_of_the_small_tools_and_guides_are_the_plans(ring: str) -> None:
    made = tools(ring)
    base, plug, weld, rolls = made.parts.base, made.plug, made.weld, made.rolls
    small = text_of(made, "small-tools")
    for words in (
        f"R {written(base.radius_mm, 2)}", f"R {written(base.bolt_circle_mm, 2)}", written(base.slot_width_mm, 2),
        f"{written(made.parts.spacer.thickness_mm, 3)} ±", f"R {written(made.bands[0].floor_mm, 2)}",
        f"R {written(plug.contour.start[1], 3)}", f"R {written(plug.contour.end[1], 3)}",
        f"R {written(plug.bore_mm, 2)}", written(plug.opening_mm, 2), f"{written(weld.thickness_mm, 3)} of sheet",
    ):  # fmt: skip
        assert words in small, words
    assert all(written(segment.start[1], 3) in small for segment in plug.section.segments)
    card = text_of(made, "pass-card")
    for row in rolls.strip:
        assert written(rolls.opening_mm(row), 2) in card and written(rolls.plate_from_end_mm(row), 2) in card
    assert len(rolls.strip) == len(made.plan.passes.rows)
    pair = text_of(made, "roll-pair")
    for form in (rolls.inner, rolls.outer):
        assert written(form.length_mm, 2) in pair
        _, least, _, largest = form.contour.bounds
        assert written(least, 3) in pair and written(largest, 3) in pair
    if rolls.collared:
        low, high = rolls.collars_mm
        assert written(high - low, 2) in pair
        assert all(f"R {written(r, 3)}" in pair for r in rolls.inner.collar_radii_mm)


@pytest.fixture(scope="module")
def whole_liner() -> LinerTools:
    return tools_of_liner(plan_liner(demo_liner()))


def test_tool_plan_of_the_liner_is_clear_and_tells_its_plan(whole_liner: LinerTools) -> None:
    for number, sheet in enumerate(tool_plan_pages(whole_liner, DAY), start=1):
        assert text_over_text(sheet, ROOM_MM) == [], number
        assert text_over_lines(sheet, room_mm=ROOM_MM) == [], number
        assert beyond_column(sheet, INNER_LEFT, INNER_RIGHT, BOTTOM + FOOT_MM) == [], number
        assert outside(sheet, (LEFT, BOTTOM, RIGHT, TOP)) == [], number
        assert smallest_text_mm(sheet) >= 2.95, number
    text = paper_text(tool_plan_pdf(whole_liner, DAY))
    plan, pin = whole_liner.schedule, whole_liner.pin
    assert plan is not None and pin is not None
    assert f"{written(plan.schedule.length, 1)} h of work" in text and "no shorter plan exists" in text
    for made in whole_liner.made:
        assert made.id in text and f"{written(plan.ready_h(made.id), 1)} h" in text
    for words in (
        f"R {written(pin.small_end_mm, 3)}", f"R {written(pin.bore_mm, 3)}", f"R {written(pin.large_end_mm, 3)}",
        pin.thread.designation, f"{written(pin.pull_stress_MPa, 0)} MPa",
    ):  # fmt: skip
        assert words in text, words
    for sheet in tool_plan_pages(whole_liner, DAY):
        assert all(written(value, digits) in text for value, digits in placed_dimensions(sheet))


def test_figures_on_the_sheets_carry_the_plans_bands() -> None:
    """The column "9 in 10" of every card: the band of the whole plan, or that no spread moves the figure."""
    made = tools("HD-402")
    card = text_of(made, "machine-card")
    for name in ("pull", "radial-sum", "stored-energy"):
        figure = made.plan.figure(f"press/{name}")
        assert figure.band is not None and figure.band.low < figure.band.high
        assert f"{plain(figure_text(figure))} {plain(band_text(figure))}" in plain(card), name
    stroke = made.plan.figure("press/stroke")
    assert stroke.band is not None and stroke.band.low == stroke.band.high and "as planned" in card
    record = text_of(made, "sizing-record")
    assert all(f"hit {k}: " in record for k in (1, 2))


def test_bore_of_the_set_is_drawn_as_it_is_shaped() -> None:
    made = tools("HD-402")
    view, form = set_view(made), made.parts.form
    assert (view.bore_mm, view.bore_top_mm) == (form.bore_mm, form.bore_top_mm)
    radii = {
        round(segment.radius, 6)
        for item in polar_drawing(view).items
        if isinstance(item, Path)
        for segment in item.segments
        if segment.is_arc
    }
    assert {round(form.bore_mm, 6), round(form.bore_top_mm, 6)} <= radii


def test_a_stop_holds_back_the_sheets_it_belongs_to_and_no_other() -> None:
    made = tools("HD-411")
    stop = Finding("stop", "The press is too small.", "take a larger one", "HD-411/press/pull", "press-pull")
    held = replace(made, plan=replace(made.plan, findings=(stop, *made.plan.findings)))
    for name in PAPERS:
        paper = paper_of(held, name)
        assert (title_of(held, paper, DAY).held == stop.sentence) == ("press" in paper.subjects), name
    text = text_of(held, "machine-card")
    assert "Held back." in text and "released" not in text.split("A Confirm")[0]


def test_every_page_has_its_number_and_same_bytes() -> None:
    made = tools("HD-411")
    paper = paper_of(made, "machine-card")
    assert paper_pdf(made, paper, DAY) == paper_pdf(made, paper, DAY)
    words = [w.text for sheet in pages(made, paper, DAY) for w in flat(expand(sheet)) if isinstance(w, Words)]
    assert plain("1 of 2") in map(plain, words)


@pytest.mark.parametrize("ring", ["HD-402", "HD-404"])
def test_dxf_of_the_tools(ring: str) -> None:
    made = tools(ring)
    files = tool_dxfs(made)
    assert files == tool_dxfs(made)
    bodies = {
        f"{ring}-R-inner-whole.dxf": made.rolls.inner.section, f"{ring}-R-outer-whole.dxf": made.rolls.outer.section,
        f"{ring}-S-blank.dxf": made.parts.form.section, f"{ring}-T.dxf": made.plug.section,
        f"{ring}-T-arbor.dxf": made.plug.arbor_section,
    }  # fmt: skip
    for name, section in bodies.items():
        read = document(files[name])
        contour = chain(read.of_kind("LWPOLYLINE", "CONTOUR")[0])
        assert contour.closed and contour.area == pytest.approx(region(section).area, rel=1e-9)
        x0, _, x1, _ = section.bounds
        assert written(x1 - x0, 3) in read.dimension_texts()
    wire = document(files[f"{ring}-S-wire.dxf"])
    sides = 2 * made.parts.form.count
    rough = [chain(e) for e in wire.of_kind("LWPOLYLINE", "ROUGH")]
    assert len(rough) == sides and len(wire.of_kind("LWPOLYLINE", "SKIM")) == sides
    for path in rough:
        (x0, y0, _), (x1, y1, _) = path.points[0], path.points[-1]
        off = abs(x0 * y1 - x1 * y0) / math.hypot(x1 - x0, y1 - y0)
        assert off == pytest.approx(made.wire.passes[0].offset_mm, abs=1e-6)


def test_dxf_of_the_pin() -> None:
    pin = tools("HD-411").parts.pin
    read = document(pin_dxf(pin))
    assert f"R {written(pin.bore_mm, 3)}" in [plain(t) for t in read.dimension_texts()]
    assert chain(read.of_kind("LWPOLYLINE", "CONTOUR")[0]).area == pytest.approx(region(pin.section).area, rel=1e-9)


def test_tables_have_values_and_formulas_beside_them() -> None:
    made = tools("HD-402")
    data = tables_xlsx(made, DAY)
    assert data == tables_xlsx(made, DAY)
    book = openpyxl.load_workbook(io.BytesIO(data))
    assert book.sheetnames == ["stop table", "figures", "rolls", "segments", "holes", "stock", "route"]
    stops = book["stop table"]
    per_mm, full = stops["B1"].value, stops["D1"].value
    # a spreadsheet keeps sixteen figures
    assert per_mm == pytest.approx(made.plan.figure("stop/girth-per-mm").value, rel=1e-15)
    rows = list(stops.iter_rows(min_row=3, values_only=True))
    middle = next(row for row in rows if row[1] == 0.0)
    for row in rows:
        assert row[2].startswith("=A") and row[4].startswith("=$D$")
        # the formulas, worked out here, give the values beside them
        assert row[0] - full == pytest.approx(row[1], abs=1e-6)
        assert middle[3] + per_mm * row[1] == pytest.approx(row[3], abs=1e-6)
    figures = {row[0]: row[2] for row in book["figures"].iter_rows(min_row=2, values_only=True)}
    assert figures == pytest.approx({f.identity: f.value for f in made.plan.figures}, rel=1e-15)
    stock = list(book["stock"].iter_rows(min_row=2, values_only=True))
    assert stock and all(row[7] == f"=E{k}-G{k}" for k, row in enumerate(stock, start=2))


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "=HYPERLINK(A1)", "\t=1"])
def test_text_never_runs_as_a_formula(text: str) -> None:
    book = openpyxl.Workbook()
    put(book.active, 1, 1, text)
    put(book.active, 1, 2, Formula("=1+1"))
    raw = io.BytesIO()
    book.save(raw)
    back = openpyxl.load_workbook(io.BytesIO(raw.getvalue())).active
    assert back["A1"].data_type == "s" and back["A1"].value == text and back["A1"].quotePrefix
    assert back["B1"].data_type == "f"


@pytest.mark.parametrize("ring", RINGS)
def test_the_pull_not_to_pass_is_the_rings_own_and_not_the_machines(ring: str) -> None:
    made = tools(ring)
    pull, machine = made.plan.figure("press/pull"), made.plan.job.machines.expander.pull_max_kN.value
    never = pull_never_above_kN(made.plan)
    assert pull.band is not None
    assert pull.value < never <= machine
    assert pull.band.high <= never < pull.band.high + 1.0
    assert f"{never:.0f} kN" in plain(text_of(made, "machine-card"))
    assert f"{machine:.0f} kN" not in plain(text_of(made, "machine-card"))


def test_a_weak_machine_rules_over_the_rings_own_pull() -> None:
    plan = tools("HD-402").plan
    machine = plan.job.machines.expander
    weak = replace(machine, pull_max_kN=replace(machine.pull_max_kN, value=20.0))
    job = replace(plan.job, machines=replace(plan.job.machines, expander=weak))
    assert pull_never_above_kN(replace(plan, job=job)) == 20.0


def faults_of_random_ring(seed: int) -> list[str]:
    """What an eye would find on the shop's sheets of one random ring."""
    liner = random_liner(seed)
    made = tools_of(plan_ring(liner, liner.rings[0].id), tool_room_shelf())
    found: list[str] = []
    for name in PAPERS:
        for number, sheet in enumerate(pages(made, paper_of(made, name), DAY), start=1):
            looks = (
                text_over_text(sheet, ROOM_MM),
                text_over_lines(sheet, room_mm=ROOM_MM),
                beyond_column(sheet, INNER_LEFT, INNER_RIGHT, BOTTOM + FOOT_MM),
                outside(sheet, (LEFT, BOTTOM, RIGHT, TOP)),
            )
            found += [f"seed {seed}, {name} {number}: {look}" for look in looks if look]
    return found


def test_sheets_of_a_random_ring_are_clear() -> None:
    assert faults_of_random_ring(100) == []


@pytest.mark.soak
def test_sheets_of_twenty_random_rings_are_clear() -> None:
    assert [fault for seed in range(20) for fault in faults_of_random_ring(seed)] == []
