"""Sections from DXF files: any order and direction, units asked about, everything that is no one chain refused."""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from mutations import TEXT, in_block
from test_liner_file import profiles_match

from hoopwright.design.demo import demo_liner
from hoopwright.design.liner_reading import liner_from_text, look_at_text
from hoopwright.kernels.profile import Profile, Segment

RING = demo_liner().rings[3]
MM, INCH, UNITLESS = 4, 1, 0


def drawn(segment: Segment, space: Any, factor: float, turned: bool) -> None:
    """One element on the layer SECTION; arcs have no direction in a DXF, lines may run either way."""
    attributes = {"layer": "SECTION"}
    start, end = (
        (factor * segment.start[0], factor * segment.start[1]),
        (factor * segment.end[0], factor * segment.end[1]),
    )
    if segment.centre is None:
        space.add_line(*((end, start) if turned else (start, end)), dxfattribs=attributes)
        return
    centre = (factor * segment.centre[0], factor * segment.centre[1])
    angles = [math.degrees(math.atan2(p[1] - centre[1], p[0] - centre[0])) for p in (start, end)]
    low, high = angles if segment.ccw else reversed(angles)
    space.add_arc(centre, factor * segment.radius, low, high, dxfattribs=attributes)


def drawing(path: Path, section: Profile, units: int = MM, factor: float = 1.0, seed: int = 1) -> Any:
    """A drawing of a section, its elements shuffled and half of them turned, with other things on other layers."""
    document = ezdxf.new("R2018", units=units)
    space = document.modelspace()
    space.add_line((0, 0), (200, 0), dxfattribs={"layer": "AXIS"})
    space.add_text("mid-surface", dxfattribs={"layer": "NOTES"})
    dice = random.Random(seed)
    pieces = list(section)
    dice.shuffle(pieces)
    for piece in pieces:
        drawn(piece, space, factor, dice.random() < 0.5)
    document.saveas(path)
    return document


def read(folder: Path, more: str = "", name: str = "ring.dxf") -> Profile | str:
    """The section of ring 4 from the drawing, or what is wrong with it."""
    lines = f'[ring.section]\nface = "mid"\nstate = "cold"\ndxf = "{name}"\ndxf_layer = "SECTION"\n{more}\n'
    text = in_block("[ring.section]", 4, lambda part: lines, TEXT)
    found = look_at_text(text.encode(), "x", None, folder)
    if found.faults:
        assert all(fault.key.startswith("ring[4].section.dxf") and fault.remedy for fault in found.faults)
        return " | ".join(str(fault) for fault in found.faults)
    return liner_from_text(text, "x", folder=folder).rings[3].section


@pytest.mark.parametrize("seed", range(8))
def test_shuffled_and_turned(tmp_path: Path, seed: int) -> None:
    drawing(tmp_path / "ring.dxf", RING.section, seed=seed)
    found = read(tmp_path)
    assert isinstance(found, Profile), found
    assert profiles_match(found, RING.section, 1e-9)


def test_inch_drawing_is_asked_about(tmp_path: Path) -> None:
    drawing(tmp_path / "ring.dxf", RING.section, INCH, 1 / 25.4)
    found = read(tmp_path)
    assert isinstance(found, str)
    assert "ring[4].section.dxf_unit is missing" in found and "marked as inches" in found
    inches = read(tmp_path, 'dxf_unit = "inch"')
    assert isinstance(inches, Profile)
    assert profiles_match(inches, RING.section, 1e-9)
    millimetres = read(tmp_path, 'dxf_unit = "mm"')
    assert isinstance(millimetres, Profile)
    assert millimetres.length == pytest.approx(RING.section.length / 25.4, abs=1e-9)


def test_drawing_without_a_unit_is_asked_about(tmp_path: Path) -> None:
    drawing(tmp_path / "ring.dxf", RING.section, UNITLESS)
    found = read(tmp_path)
    assert isinstance(found, str) and "having no unit" in found
    assert isinstance(read(tmp_path, 'dxf_unit = "mm"'), Profile)


def test_a_metre_drawing_is_asked_about(tmp_path: Path) -> None:
    drawing(tmp_path / "ring.dxf", RING.section, 6)
    found = read(tmp_path)
    assert isinstance(found, str) and "marked as metres" in found


def test_unit_against_the_drawing(tmp_path: Path) -> None:
    drawing(tmp_path / "ring.dxf", RING.section)
    found = read(tmp_path, 'dxf_unit = "inch"')
    assert isinstance(found, str) and "mm, as the drawing is marked" in found


def test_origin(tmp_path: Path) -> None:
    drawing(tmp_path / "ring.dxf", RING.section.moved(-102.0, -90.0))
    found = read(tmp_path, "dxf_origin_mm = [102.0, 90.0]")
    assert isinstance(found, Profile)
    assert profiles_match(found, RING.section, 1e-9)


@pytest.mark.parametrize("light", [True, False], ids=["LWPOLYLINE", "POLYLINE"])
def test_polyline_with_bulges(tmp_path: Path, light: bool) -> None:
    document = ezdxf.new("R2018", units=MM)
    rows = [(*s.start, 0.0, 0.0, math.tan(s.sweep / 4.0)) for s in RING.section] + [(*RING.section.end, 0, 0, 0)]
    space = document.modelspace()
    if light:
        space.add_lwpolyline(rows, dxfattribs={"layer": "SECTION"})
    else:
        space.add_polyline2d([(x, y, b) for x, y, _, _, b in rows], format="xyb", dxfattribs={"layer": "SECTION"})
    document.saveas(tmp_path / "ring.dxf")
    found = read(tmp_path)
    assert isinstance(found, Profile), found
    assert profiles_match(found, RING.section, 1e-6)


def test_a_line_drawn_twice_counts_once(tmp_path: Path) -> None:
    document = drawing(tmp_path / "ring.dxf", RING.section)
    drawn(RING.section.segments[0], document.modelspace(), 1.0, True)
    document.saveas(tmp_path / "ring.dxf")
    assert isinstance(read(tmp_path), Profile)


def branch(space: Any) -> None:
    """A third line at a joint."""
    space.add_line(RING.section.segments[1].start, (0.0, 0.0), dxfattribs={"layer": "SECTION"})


def loose(space: Any) -> None:
    """A line apart from the rest."""
    space.add_line((0.0, 0.0), (1.0, 0.0), dxfattribs={"layer": "SECTION"})


def closing(space: Any) -> None:
    """A line that closes the section."""
    space.add_line(RING.section.start, RING.section.end, dxfattribs={"layer": "SECTION"})


def spline(space: Any) -> None:
    """A curve that is no arc."""
    space.add_spline([(0, 0), (1, 1), (2, 0)], dxfattribs={"layer": "SECTION"})


def mirrored(space: Any) -> None:
    """An arc seen from behind."""
    space.add_arc((0, 0), 5, 0, 90, dxfattribs={"layer": "SECTION", "extrusion": (0, 0, -1)})


def apart(space: Any) -> None:
    """A closed circle of two arcs apart from the rest."""
    space.add_arc((10, 10), 5, 0, 180, dxfattribs={"layer": "SECTION"})
    space.add_arc((10, 10), 5, 180, 360, dxfattribs={"layer": "SECTION"})


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (branch, "three ends"),
        (loose, "4 loose ends"),
        (closing, "a closed line"),
        (spline, "holding a SPLINE"),
        (mirrored, "a mirrored ARC"),
        (apart, "2 pieces apart"),
    ],
)
def test_what_is_no_one_chain(tmp_path: Path, more: Callable[[Any], None], said: str) -> None:
    document = drawing(tmp_path / "ring.dxf", RING.section)
    more(document.modelspace())
    document.saveas(tmp_path / "ring.dxf")
    found = read(tmp_path)
    assert isinstance(found, str) and said in found


def test_a_layer_that_is_not_there(tmp_path: Path) -> None:
    drawing(tmp_path / "ring.dxf", RING.section)
    lines = '[ring.section]\nface = "mid"\nstate = "cold"\ndxf = "ring.dxf"\ndxf_layer = "OTHER"\n\n'
    found = look_at_text(in_block("[ring.section]", 4, lambda part: lines).encode(), "x", None, tmp_path)
    assert "AXIS, NOTES, SECTION" in str(found.faults[0])


def test_a_kinked_drawing(tmp_path: Path) -> None:
    document = ezdxf.new("R2018", units=MM)
    for start, end in (((102.0, 116.85), (120.0, 116.85)), ((120.0, 116.85), (152.0, 95.0))):
        document.modelspace().add_line(start, end, dxfattribs={"layer": "SECTION"})
    document.saveas(tmp_path / "ring.dxf")
    found = read(tmp_path)
    assert isinstance(found, str) and "turns by" in found


@pytest.mark.parametrize(
    "content", [b"", b"no drawing at all\n", b"  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n", b"\x00\xff" * 50]
)
def test_damaged_drawings(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "ring.dxf").write_bytes(content)
    assert isinstance(read(tmp_path), str)


def test_a_text_without_a_folder_has_no_drawings() -> None:
    lines = '[ring.section]\nface = "mid"\nstate = "cold"\ndxf = "ring.dxf"\ndxf_layer = "SECTION"\n\n'
    found = look_at_text(in_block("[ring.section]", 4, lambda part: lines).encode(), "x")
    assert "inline" in found.faults[0].remedy
