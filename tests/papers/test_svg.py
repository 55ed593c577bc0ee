"""SVG is well-formed, says what it shows, keeps its geometry, and asks the page for its colours."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from handmade import THICKNESS_MM, section, strained
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.errors import InputError
from hoopwright.kernels.profile_integrals import sheet_section
from hoopwright.papers.drawing.items import Drawing, Group, LinearDimension, Mark, Path, Text, bow, circle, rectangle
from hoopwright.papers.drawing.pens import FACES, PAPER, PENS, SCREEN, wash_step
from hoopwright.papers.drawing.svg import style_sheet, svg
from hoopwright.papers.pictures.sheet_metal import sheet_outline
from hoopwright.papers.pictures.strain_wash import section_wash

NAMESPACE = "{http://www.w3.org/2000/svg}"


def read(text: str) -> ET.Element:
    return ET.fromstring(text)


def enclosed(data: str) -> float:
    """Area inside the path data of one closed chain of lines and arcs, from the letters alone."""
    total, here, first = 0.0, (0.0, 0.0), (0.0, 0.0)
    for command, numbers in re.findall(r"([MLAZ])([^MLAZ]*)", data):
        values = [float(v) for v in numbers.split()]
        end = first if command == "Z" else (values[-2], values[-1])
        if command == "M":
            first = here = end
            continue
        total += 0.5 * (here[0] * end[1] - end[0] * here[1])
        if command == "A":
            radius, large, sweep = values[0], values[3] == 1.0, values[4] == 1.0
            half = math.asin(min(1.0, 0.5 * math.dist(here, end) / radius))
            turn = 2.0 * (math.pi - half if large else half)
            total += (1.0 if sweep else -1.0) * 0.5 * radius**2 * (turn - math.sin(turn))
        here = end
    return abs(total)


def only_path(text: str) -> str:
    return next(e.attrib["d"] for e in read(text).iter(f"{NAMESPACE}path"))


@given(st.floats(5.0, 300.0), st.floats(-180.0, 180.0), st.floats(10.0, 350.0), st.booleans())
def test_arcs_keep_their_sense_and_size(radius: float, start: float, turn: float, ccw: bool) -> None:
    """A bow closed by its chord: the area of the circular segment, whichever way it runs."""
    bend = bow((3.0, -2.0), radius, start, start + turn if ccw else start - turn)
    data = only_path(svg(Drawing((Path((bend,), "wide", None, True),), "a bow")))
    wanted = 0.5 * radius**2 * abs(math.radians(turn) - math.sin(math.radians(turn)))
    # coordinates are written to the micrometre, radii too: the area is out by no more along the whole outline
    assert enclosed(data) == pytest.approx(wanted, abs=1e-3 * 2.0 * math.pi * radius)


def test_a_sheet_keeps_its_area() -> None:
    outline = Path(sheet_outline(section(), THICKNESS_MM), "wide", None, True)
    data = only_path(svg(Drawing((outline,), "sheet"), 2.0))
    assert enclosed(data) == pytest.approx(4.0 * sheet_section(section(), THICKNESS_MM).area, rel=1e-3)


def test_a_circle_is_whole() -> None:
    data = only_path(svg(Drawing((Path(circle((0.0, 0.0), 7.0), "wide", None, True),), "c")))
    assert enclosed(data) == pytest.approx(math.pi * 49.0, rel=1e-4)


def test_drawing_says_what_it_shows() -> None:
    root = read(svg(section_wash(strained(), "HD <7> & co"), 2.0))
    assert root.attrib["role"] == "img"
    assert root.find(f"{NAMESPACE}title") is not None
    assert "HD <7> & co" in root.attrib["aria-label"]
    assert "95" in root.attrib["aria-label"]


def test_links_make_a_group() -> None:
    part = Group((Path(rectangle(0.0, 0.0, 5.0, 5.0), "wide"),), "ring 7", "/ring/7?a=1&b=2")
    root = read(svg(Drawing((part,), "map")))
    assert root.attrib["role"] == "group"
    link = root.find(f"{NAMESPACE}a")
    assert link is not None
    assert link.attrib == {"href": "/ring/7?a=1&b=2", "aria-label": "ring 7"}


def test_lettering_keeps_its_size_at_any_scale() -> None:
    drawing = Drawing((Text((0.0, 0.0), "0.80", 3.2), LinearDimension((0.0, 0.0), (40.0, 0.0), 8.0)), "t")
    for scale in (0.1, 1.0, 5.0):
        texts = [e for e in read(svg(drawing, scale)).iter(f"{NAMESPACE}text")]
        assert [(t.text, t.attrib["font-size"]) for t in texts] == [("0.80", "3.2"), ("40.00", "2.95")]


def test_screen_asks_the_page_and_paper_is_black() -> None:
    drawing = Drawing((Path(rectangle(0.0, 0.0, 9.0, 9.0), "reckoned", "wash3", True), Text((0.0, 0.0), "x")), "t")
    screen, paper = svg(drawing), svg(drawing, theme="paper")
    assert f"var(--blue,{SCREEN['blue']})" in screen
    assert "<style>" not in svg(drawing, style=False)
    assert "var(" not in paper and "<style>" not in paper
    assert 'stroke="#000000"' in paper
    greys = {c.lower() for c in re.findall(r"#[0-9A-Fa-f]{6}", paper)}
    assert all(c[1:3] == c[3:5] == c[5:7] for c in greys)


def test_nothing_is_fetched() -> None:
    text = svg(section_wash(strained(20.0)), 2.0)
    assert "url(" not in text and "@import" not in text
    assert re.findall(r'(?:href|src)="[^"]*"', text) == []


def test_style_sheet_knows_every_pen_and_face() -> None:
    sheet = style_sheet()
    assert all(f".hw-{name}{{" in sheet for name in PENS)
    assert all(f".ht-{name}{{" in sheet for name in FACES)
    assert sheet.count("{") == sheet.count("}")


def test_same_input_same_bytes() -> None:
    assert svg(section_wash(strained(20.0)), 2.0) == svg(section_wash(strained(20.0)), 2.0)


@pytest.mark.parametrize("level", ["note", "caution", "stop"])
def test_marks_differ_by_shape(level: str) -> None:
    root = read(svg(Drawing((Mark((0.0, 0.0), 3, level),), "m")))  # type: ignore[arg-type]
    paths = [e.attrib["d"] for e in root.iter(f"{NAMESPACE}path")]
    assert [e.text for e in root.iter(f"{NAMESPACE}text")] == ["3"]
    rings = [d for d in paths if d.count("A") >= 2]
    octagons = [d for d in paths if d.count("L") == 8]
    assert (len(rings), len(octagons)) == {"note": (1, 0), "caution": (2, 0), "stop": (0, 1)}[level]


def test_unknown_pen_is_refused() -> None:
    with pytest.raises(InputError, match="pen"):
        svg(Drawing((Path(rectangle(0.0, 0.0, 1.0, 1.0), "crayon"),), "t"), theme="paper")


def test_wash_gets_darker_on_paper_and_screen() -> None:
    def lightness(shade: str) -> float:
        red, green, blue = (int(shade[k : k + 2], 16) / 255.0 for k in (1, 3, 5))
        return 0.2126 * red**2.2 + 0.7152 * green**2.2 + 0.0722 * blue**2.2

    for table in (PAPER, SCREEN):
        steps = [lightness(table[f"wash{k}"]) for k in range(6)]
        assert steps == sorted(steps, reverse=True)
        assert min(a / b for a, b in pairwise(steps)) > 1.2
    assert [wash_step(p) for p in (9.99, 10.0, 25.0, 50.0, 75.0, 90.0, 500.0)] == [0, 1, 2, 3, 4, 5, 5]
