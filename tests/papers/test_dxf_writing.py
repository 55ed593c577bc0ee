"""DXF files are read back from their tags alone: units, closed chains, layers, and what every dimension prints."""

from __future__ import annotations

import hashlib
import math
import subprocess
import sys
from pathlib import Path as FilePath

import pytest
from dxf_tags import chain, document
from handmade import SECTOR, STRIP, THICKNESS_MM, section, segments

from hoopwright.errors import InputError
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_integrals import region, sheet_section
from hoopwright.papers.drawing.dxf import Layer, dxf
from hoopwright.papers.drawing.items import (
    AngleDimension,
    DiameterDimension,
    Drawing,
    Hatch,
    Leader,
    LinearDimension,
    Mark,
    Path,
    RadiusDimension,
    Text,
    circle,
    rectangle,
)
from hoopwright.papers.dxf_blank import blank_dxf
from hoopwright.papers.dxf_rolls import roll_pair_dxf
from hoopwright.papers.dxf_segments import segment_dxf
from hoopwright.papers.pictures.roll_contours import turning_chain
from hoopwright.papers.pictures.segments import half_section
from hoopwright.papers.pictures.sheet_metal import sheet_outline
from hoopwright.tools.rolls import roll_pair

CUT = (Layer("CUT", "outline"),)
PAIR = roll_pair(section(), THICKNESS_MM, 50.0, 8.0)


def written(*items: object, scale: float = 1.0) -> bytes:
    return dxf(Drawing(items, "test"), CUT, scale)  # type: ignore[arg-type]


def test_header_says_millimetres() -> None:
    read = document(written(Path(rectangle(0.0, 0.0, 30.0, 20.0), layer="CUT", closed=True)))
    assert read.header_value("$ACADVER") == "AC1032"
    assert read.header_value("$INSUNITS") == "4"
    assert read.header_value("$MEASUREMENT") == "1"
    assert {"CUT", "DIMENSION", "TEXT", "HATCH", "CENTRE"} <= set(read.layers)


def test_chain_is_closed_and_true() -> None:
    outline = sheet_outline(section(), THICKNESS_MM)
    read = document(written(Path(outline, layer="CUT", closed=True)))
    found = [chain(e) for e in read.of_kind("LWPOLYLINE", "CUT")]
    assert len(found) == 1 and found[0].closed
    assert found[0].area == pytest.approx(sheet_section(section(), THICKNESS_MM).area, abs=1e-6)
    assert found[0].length == pytest.approx(math.fsum(s.length for s in outline), abs=1e-9)
    assert sorted(found[0].radii) == pytest.approx([2.6, 2.6, 2.6, 3.4, 3.4, 3.4, 3.6, 4.4], abs=1e-6)


@pytest.mark.parametrize("scale", [0.1, 1.0, 4.0])
def test_dimensions_print_what_they_measure(scale: float) -> None:
    read = document(
        written(
            LinearDimension((0.0, 0.0), (104.0, 0.0), 8.0, 2),
            LinearDimension((0.0, 0.0), (60.0, 25.4321), 8.0, 3, "y"),
            LinearDimension((0.0, 0.0), (3.0, 4.0), 2.0, 1),
            LinearDimension((10.0, 0.0), (10.8, 0.0), 8.0, 3, "x"),
            RadiusDimension((0.0, 0.0), 2.5, 30.0, 6.0, 2),
            DiameterDimension((0.0, 0.0), 123.8, 30.0, 6.0, 2),
            AngleDimension((0.0, 0.0), -80.115, 80.115, 50.0, 2),
            scale=scale,
        )
    )
    assert read.dimension_texts() == ["104.00", "25.432", "5.0", "0.800", "R2.50", "Ø247.60", "160.23°"]


def test_numbers_have_points_and_no_rounding() -> None:
    """The traps of foreign dimension styles: a length factor, a decimal comma, rounding to whole units."""
    read = document(written(LinearDimension((0.0, 0.0), (2.5, 0.0), 8.0, 3)))
    assert read.dimension_texts() == ["2.500"]
    assert [e.number(42) for e in read.of_kind("DIMENSION")] == pytest.approx([2.5], abs=1e-9)


def test_a_prefix_stands_before_the_number() -> None:
    read = document(written(LinearDimension((0.0, 0.0), (0.0, 48.425), 0.0, 3, "y", prefix="R ")))
    assert read.dimension_texts() == ["R 48.425"]


def test_lettering_grows_against_the_scale() -> None:
    heights = [
        document(written(Text((0.0, 0.0), "x", 3.0), scale=scale)).of_kind("TEXT", "TEXT")[0].number(40)
        for scale in (0.2, 1.0, 2.0)
    ]
    assert heights == pytest.approx([10.05, 2.01, 1.005])


def test_hatch_is_lines_and_leader_has_its_words() -> None:
    read = document(
        written(Hatch((rectangle(0.0, 0.0, 10.0, 10.0),), 45.0, 1.0), Leader((0.0, 0.0), (5.0, 5.0), ("R 5", "crown")))
    )
    # a diagonal of 14.14 holds lines at -7 to 7
    assert len(read.of_kind("LINE", "HATCH")) == 15
    assert [e.value(1) for e in read.of_kind("TEXT", "TEXT")] == ["R 5", "crown"]


@pytest.mark.parametrize(
    ("item", "word"),
    [
        (Path(rectangle(0.0, 0.0, 1.0, 1.0), layer="CAT"), "layer"),
        (Path(rectangle(0.0, 0.0, 1.0, 1.0)), "layer"),
        (Path(rectangle(0.0, 0.0, 1.0, 1.0)[:2], layer="CUT", closed=True), "closed"),
        (LinearDimension((0.0, 0.0), (10.0, 0.0), 5.0, 2, value_mm=815.0), "true to size"),
        (Mark((0.0, 0.0), 1, "stop"), "machine"),
    ],
)
def test_what_no_machine_may_read_is_refused(item: object, word: str) -> None:
    with pytest.raises(InputError, match=word):
        written(item)


def test_a_file_refused_leaves_the_next_one_sound() -> None:
    sound = written(Path(circle((0.0, 0.0), 5.0), layer="CUT", closed=True))
    with pytest.raises(InputError):
        written(Path(rectangle(0.0, 0.0, 1.0, 1.0)))
    assert written(Path(circle((0.0, 0.0), 5.0), layer="CUT", closed=True)) == sound


SELF = f"""
import hashlib, sys
sys.path.insert(0, {str(FilePath(__file__).parent)!r})
from handmade import SECTOR
from hoopwright.papers.dxf_blank import blank_dxf
sys.stdout.write(hashlib.sha256(blank_dxf(SECTOR)).hexdigest())
"""


def test_same_input_same_bytes_in_another_process() -> None:
    here = hashlib.sha256(blank_dxf(SECTOR)).hexdigest()
    for seed in ("0", "4", "7"):
        answer = subprocess.run(
            [sys.executable, "-c", SELF], capture_output=True, text=True, check=True, env={"PYTHONHASHSEED": seed}
        )
        assert answer.stdout == here


def test_strip_blank() -> None:
    read = document(blank_dxf(STRIP))
    cut = [chain(e) for e in read.of_kind("LWPOLYLINE", "CUT")]
    assert len(cut) == 1 and cut[0].closed
    assert cut[0].area == pytest.approx(815.0 * 54.5, abs=1e-6)
    assert sorted(read.dimension_texts()) == ["54.5", "764.01", "815"]
    trims = [chain(e) for e in read.of_kind("LWPOLYLINE", "TRIM")]
    ends = sorted({round(p[0], 3) for c in trims for p in c.points if len({q[0] for q in c.points}) == 1})
    assert ends == pytest.approx([25.495, 789.505])
    assert read.of_kind("LWPOLYLINE", "GRAIN")


def test_sector_blank() -> None:
    read = document(blank_dxf(SECTOR))
    cut = [chain(e) for e in read.of_kind("LWPOLYLINE", "CUT")]
    assert len(cut) == 1 and cut[0].closed
    assert cut[0].area == pytest.approx(SECTOR.sector.area_mm2, rel=1e-9)
    assert sorted(cut[0].radii) == pytest.approx([204.34, 270.0], abs=1e-6)
    assert sorted(read.dimension_texts()) == ["160.23°", "25.06", "R204.34", "R270.00"]
    # the ends are cut later at the distance that is left for the weld: 0.06 from the rays
    left = [p for e in read.of_kind("LWPOLYLINE", "TRIM") for p in chain(e).points if len(chain(e).points) == 2]
    half = 0.5 * SECTOR.sector.angle_rad
    straight = [(x, y) for x, y, bulge in left if bulge == 0.0]
    off = [abs(abs(x) * math.cos(half) - y * math.sin(half)) for x, y in straight]
    assert min(off) == pytest.approx(0.06, abs=1e-6)


def test_roll_pair() -> None:
    files = roll_pair_dxf(PAIR, "XR-7-R")
    assert sorted(files) == ["inner", "outer"]
    for side, contour in (("inner", PAIR.inner), ("outer", PAIR.outer)):
        read = document(files[side])
        found = [chain(e) for e in read.of_kind("LWPOLYLINE", "CONTOUR")]
        assert len(found) == 1 and found[0].closed
        assert found[0].area == pytest.approx(region(Profile(turning_chain(contour))).area, rel=1e-9)
        flats = {f"R {s.start[1]:.3f}" for s in contour.segments if not s.is_arc and s.start[1] == s.end[1]}
        assert flats <= set(read.dimension_texts())
        assert f"{contour.end[0] - contour.start[0]:.3f}" in read.dimension_texts()


def test_rolls_closed_stand_the_sheet_apart() -> None:
    """Contours read back from both files: outer turned over, the middle of every flat one sheet away."""
    files = roll_pair_dxf(PAIR, "x")
    points = {}
    for side in ("inner", "outer"):
        entity = document(files[side]).of_kind("LWPOLYLINE", "CONTOUR")[0]
        points[side] = chain(entity).points
    inner, outer = points["inner"], points["outer"]
    gap = [2.0 * PAIR.pitch_radius_mm - b[1] - a[1] for a, b in zip(inner, outer, strict=True) if a[1] and b[1]]
    assert gap[0] == pytest.approx(THICKNESS_MM, abs=1e-9)
    assert gap[-1] == pytest.approx(THICKNESS_MM, abs=1e-9)


def test_segment_profile() -> None:
    view = segments()
    read = document(segment_dxf(view))
    found = [chain(e) for e in read.of_kind("LWPOLYLINE", "PROFILE")]
    assert len(found) == 1 and found[0].closed
    assert found[0].area == pytest.approx(region(Profile(half_section(view))).area, rel=1e-9)
    texts = read.dimension_texts()
    assert {"R 123.846", "R 125.752", "R 123.395", "47.000"} <= set(texts)
    assert sorted(t for t in texts if t.startswith("R") and " " not in t) == ["R2.600", "R2.600", "R3.400", "R4.400"]
