"""The pictures of the trade: what they show is what they were given."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial
from itertools import pairwise
from pathlib import Path as FilePath

import numpy as np
import pytest
from handmade import NARROW, SECTOR, SLENDER, STRIP, THICKNESS_MM, piece, section, segments, strained
from hypothesis import given
from hypothesis import strategies as st
from look import text_over_lines, text_over_text
from shapely.geometry import LineString, Polygon

from hoopwright.design.liner_reading import read_liner
from hoopwright.errors import GeometryError, InputError
from hoopwright.findings import Basis
from hoopwright.kernels.profile import Profile, line
from hoopwright.papers.drawing.expand import expand
from hoopwright.papers.drawing.hatching import chain_points
from hoopwright.papers.drawing.items import Drawing, Hatch, Path, Placed
from hoopwright.papers.drawing.strokes import Stroke, Words, flat
from hoopwright.papers.pictures.basis import BASIS_WORDS, basis_legend, underline
from hoopwright.papers.pictures.blanks import blank_drawing
from hoopwright.papers.pictures.callouts import GAP_MM, spread
from hoopwright.papers.pictures.gauge import Gauge, gauge
from hoopwright.papers.pictures.icons import Icon, icon
from hoopwright.papers.pictures.liner_map import liner_map
from hoopwright.papers.pictures.ring_drawing import control_text, ring_drawing
from hoopwright.papers.pictures.roll_contours import pair_drawing, standing, turning_chain
from hoopwright.papers.pictures.segments import polar_drawing, profile_drawing
from hoopwright.papers.pictures.sheet_metal import cut_sheet, sheet_outline
from hoopwright.papers.pictures.strain_wash import Strained, cell_edges, section_wash, strain_line, wash_legend
from hoopwright.papers.sheet_frame import INNER_WIDTH
from hoopwright.papers.walk_tools import fitted
from hoopwright.tools.rolls import roll_pair

DEMO = FilePath(__file__).resolve().parents[2] / "examples" / "demo" / "liner.toml"


def words(drawing: Drawing, scale: float = 1.0) -> list[str]:
    return [p.text for p in flat(expand(drawing, scale)) if isinstance(p, Words)]


def test_wash_covers_the_sheet_once() -> None:
    shown = strained()
    left, right = cell_edges(shown.piece)
    whole = Polygon([*left, *reversed(right)]).area
    parts = [i for i in section_wash(shown).items if isinstance(i, Path) and i.pen is None]
    assert math.fsum(Polygon(chain_points(p.segments, 0.01)).area for p in parts) == pytest.approx(whole, rel=1e-9)
    # chords of the stations' cells leave the arcs by less than a thousandth of the area
    assert whole == pytest.approx(shown.piece.area_mm2, rel=1e-3)
    assert {p.fill for p in parts} == {"wash1", "wash5"}


@pytest.mark.parametrize(
    ("share", "high", "hatches"), [(80.0, 0.0, 0), (80.0, 25.0, 1), (104.0, 10.0, 2), (100.0, 0.0, 1)]
)
def test_only_the_hatch_speaks_of_the_limit(share: float, high: float, hatches: int) -> None:
    """Single where the band reaches the limit, both ways where the reckoned value passes it."""
    at = piece()
    values = np.full(at.s_mm.size, share)
    items = section_wash(Strained(at, values, values + high)).items
    assert len([i for i in items if isinstance(i, Hatch)]) == hatches


def test_strain_line_shows_the_peak() -> None:
    shown = strained()
    drawing = strain_line(shown, 1.5, 6.0, 110.0)
    curve = next(i for i in drawing.items if isinstance(i, Path) and i.pen == "reckoned-narrow")
    top = max(max(s.start[1], s.end[1]) for s in curve.segments)
    limit = next(i for i in drawing.items if isinstance(i, Path) and i.pen == "limit").segments[0].start[1]
    assert top / limit == pytest.approx(0.95)
    assert words(drawing) == ["95\u00a0%"]


@pytest.mark.parametrize("bad", [np.array([1.0, 2.0]), None])
def test_odd_shares_are_refused(bad: np.ndarray | None) -> None:
    at = piece()
    share = np.full(at.s_mm.size, np.nan) if bad is None else bad
    with pytest.raises(InputError, match="share_pct"):
        Strained(at, share, share)


def marks_of(wanted: Gauge, width: float) -> dict[str, list[float]]:
    """x of limits, tick and diamond of a gauge."""
    found: dict[str, list[float]] = {"wide": [], "reckoned-tick": [], "lead": []}
    for item in gauge(wanted, width).items:
        assert isinstance(item, Path)
        upright = item.segments[0].start[0] == item.segments[0].end[0]
        if item.pen in ("wide", "reckoned-tick") and upright:
            found[str(item.pen)].append(item.segments[0].start[0])
        if item.fill == "lead":
            found["lead"].append(item.segments[0].start[0])
    return found


@given(st.floats(10.0, 100.0), st.floats(0.01, 5.0), st.floats(-3.0, 3.0), st.floats(-3.0, 3.0))
def test_gauge_keeps_order_and_proportion(low: float, width: float, at: float, read: float) -> None:
    wanted = Gauge(low + at, low, low + width, None, None, low + read)
    shown = marks_of(wanted, 40.0)
    values = [low, low + width, low + at, low + read]
    places = [*shown["wide"], *shown["reckoned-tick"], *shown["lead"]]
    assert all(0.0 <= x <= 40.0 for x in places)
    scale = (places[1] - places[0]) / width
    assert [(x - places[0]) for x in places] == pytest.approx([scale * (v - low) for v in values], abs=1e-9)


def test_gauge_of_one_limit_has_one_stop() -> None:
    assert len(marks_of(Gauge(4.7, None, 5.0), 20.0)["wide"]) == 1
    assert gauge(Gauge(4.7, None, 5.0, digits=1)).title == "at most 5.0, reckoned 4.7"


def test_empty_gauge_is_refused() -> None:
    with pytest.raises(InputError, match="gauge"):
        gauge(Gauge(None))


def test_every_basis_has_its_own_line() -> None:
    def look(basis: Basis) -> tuple[tuple[str | None, tuple[float, float]], ...]:
        return tuple((i.pen, i.segments[0].start) for i in underline((0.0, 0.0), 9.0, basis) if isinstance(i, Path))

    looks = [look(basis) for basis in BASIS_WORDS]
    assert len(set(looks)) == len(BASIS_WORDS) == 6
    assert words(basis_legend(170.0))[1:] == list(BASIS_WORDS.values())
    assert text_over_text(basis_legend(60.0)) == []
    assert text_over_text(wash_legend(90.0, "share")) == []


@pytest.mark.parametrize(
    "kind", ["strip", "arc", "rolling", "rolled", "closed", "annealed", "sized", "trimmed", "drilled"]
)
def test_icons_are_small_and_say_what_they_are(kind: str) -> None:
    drawn = icon(Icon(kind))  # type: ignore[arg-type]
    assert drawn.title
    for part in flat(expand(drawn)):
        assert isinstance(part, Stroke)
        assert all(math.hypot(*p) < 8.0 for p in chain_points(part.segments, 0.05))


def test_curl_grows_with_the_share() -> None:
    lengths = []
    for share in (0.1, 0.4, 0.9):
        arc = icon(Icon("rolled", share)).items[0]
        assert isinstance(arc, Path)
        lengths.append(arc.segments[0].length)
    assert lengths == pytest.approx([2.0 * math.pi * 5.0 * s for s in (0.1, 0.4, 0.9)])


@given(st.lists(st.tuples(st.floats(0.0, 100.0), st.floats(2.0, 30.0)), min_size=1, max_size=9))
def test_labels_of_a_row_never_meet(wishes: list[tuple[float, float]]) -> None:
    wishes = sorted(wishes)
    widths = [w for _, w in wishes]
    lefts = spread([x for x, _ in wishes], widths)
    for (a, wide), (b, _) in pairwise(zip(lefts, widths, strict=True)):
        assert b - a >= wide + GAP_MM - 1e-6


def test_labels_with_room_stay_where_they_are_wanted() -> None:
    assert spread([0.0, 50.0, 90.0], [10.0, 10.0, 10.0]) == [0.0, 50.0, 90.0]


def test_rolls_stand_about_the_sheet_in_the_picture() -> None:
    for cone in (math.inf, 260.0, -260.0):
        pair = roll_pair(section(), THICKNESS_MM, 50.0, 8.0, 0.03, cone)
        inner, outer = standing(pair)
        both = zip(inner, outer, strict=True)
        gap = [math.dist(a.point_at(0.5 * a.length), b.point_at(0.5 * b.length)) for a, b in both]
        assert gap == pytest.approx([THICKNESS_MM] * len(gap), abs=2e-3)
        lines = [LineString(contour.polyline(1e-5)) for contour in (inner, outer)]
        assert lines[0].distance(lines[1]) > THICKNESS_MM - 1e-3


def test_roll_labels_are_the_contours_radii() -> None:
    pair = roll_pair(section(), THICKNESS_MM, 50.0, 8.0)
    shown = [w.replace("\u00a0", " ") for w in words(pair_drawing(pair, 1.5), 1.5)]
    for contour in (pair.inner, pair.outer):
        flats = [f"R {s.start[1]:.3f}" for s in contour if not s.is_arc and abs(s.start[1] - s.end[1]) < 1e-9]
        assert len(flats) == 3
        assert all(flat_ in shown for flat_ in flats)


def test_a_roll_below_its_axis_is_refused() -> None:
    with pytest.raises(GeometryError):
        turning_chain(Profile((line((0.0, 5.0), (10.0, -1.0)),)))


def test_segments_show_their_control_radii() -> None:
    shown = [w.replace("\u00a0", " ") for w in words(profile_drawing(segments(), 1.5), 1.5)]
    assert {"R 123.846", "R 125.752", "R 123.395", "land, z 32.0"} <= set(shown)
    assert text_over_text(Drawing((Placed(profile_drawing(segments(), 1.5), (0.0, 0.0), 1.5),), "x")) == []


def test_polar_view_has_the_set() -> None:
    drawing = polar_drawing(segments(), 11.25)
    names = [w for w in words(drawing, 0.2) if w.isdigit()]
    assert names == [str(k) for k in range(1, 9)]
    shapes = [
        Polygon(chain_points(i.segments, 0.01))
        for i in drawing.items
        if isinstance(i, Path) and i.fill == "sheet" and i.title == ""
    ]
    assert len(shapes) == 8
    gaps = [shapes[k].distance(shapes[(k + 1) % 8]) for k in range(8)]
    assert gaps == pytest.approx([4.6] * 8, abs=2e-2)


@pytest.mark.parametrize("change", [{"count": 1}, {"slot_mm": 200.0}])
def test_impossible_sets_are_refused(change: dict[str, float]) -> None:
    with pytest.raises(InputError):
        polar_drawing(replace(segments(), **change))  # type: ignore[arg-type]


def test_blank_says_its_size() -> None:
    strip = blank_drawing(STRIP, 0.2)
    assert {"815", "54.5", "764.01"} <= set(words(strip, 0.2))
    sector = blank_drawing(SECTOR, 0.2)
    assert {"160.23°", "25.06", "R\u00a0270.00", "R\u00a0204.34"} <= set(words(sector, 0.2))
    for blank in (
        b for one in (SECTOR, NARROW, SLENDER) for b in (one, replace(one, forward_inner=not one.forward_inner))
    ):
        _, scale = fitted(partial(blank_drawing, blank), INNER_WIDTH, 84.0, 1.0)
        drawn = Drawing((Placed(blank_drawing(blank, scale), (0.0, 0.0), scale),), "x")
        assert text_over_text(drawn) == []
        assert text_over_lines(drawn) == []


def test_map_and_rings_of_the_demo() -> None:
    """Every ring on the map by its number and in its place, every control size on its ring's drawing."""
    liner = read_liner(DEMO)
    drawing = liner_map(liner, {"HD-401": "solid", "HD-413": "pencil"}, links={"HD-402": "/HD-402"})
    shown = words(drawing)
    assert [r.id for r in liner.rings] == [w for w in shown if w.startswith("HD-")]
    assert text_over_text(drawing) == []
    for ring in liner.rings:
        for scale in (1.0, 1.5):
            drawn = Drawing((Placed(ring_drawing(ring, scale), (0.0, 0.0), scale),), ring.id)
            assert text_over_text(drawn) == []
            for control in ring.controls:
                assert control_text(control)[0] in words(drawn)


def test_outline_of_a_kinked_section_is_still_drawn() -> None:
    """`check` draws faulty files too; a kink has no exact offset."""
    kinked = Profile((line((0.0, 50.0), (10.0, 50.0)), line((10.0, 50.0), (20.0, 53.0))))
    outline = sheet_outline(kinked, 0.8)
    assert Polygon(chain_points(outline, 0.01)).area == pytest.approx(0.8 * kinked.length, rel=0.03)


@pytest.mark.parametrize(("firmness", "pens"), [("pencil", {"dashed"}), ("outline", {"narrow"}), ("solid", {"narrow"})])
def test_firmness_is_told_without_colour(firmness: str, pens: set[str]) -> None:
    items = cut_sheet(section(), THICKNESS_MM, firmness)  # type: ignore[arg-type]
    assert {i.pen for i in items} == pens  # type: ignore[union-attr]
    assert len(cut_sheet(section(), THICKNESS_MM, "hatched")) == 2
