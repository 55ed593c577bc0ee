"""Widths of lettering are those of the shipped fonts, and lines are broken where they must be."""

from __future__ import annotations

import datetime as dt
import json

import pypdfium2
import pytest
from font_reader import all_widths
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.errors import InputError
from hoopwright.papers.drawing.items import Drawing, Text
from hoopwright.papers.drawing.lettering import FONT_FILES, FONTS, missing, printable, text_width, wrapped, wrapped_rich
from hoopwright.papers.drawing.pdf import pdf
from hoopwright.papers.drawing.pens import FACES


def test_widths_are_those_of_the_fonts() -> None:
    """On a difference run tests/papers/font_reader.py."""
    assert json.loads((FONTS / "widths.json").read_text(encoding="utf-8")) == all_widths()


def test_every_face_has_its_font() -> None:
    for face, name in FONT_FILES.items():
        family, weight, slant = FACES[face]
        font = TTFont(FONTS / name)
        assert font["name"].getDebugName(1).startswith(family)
        assert font["OS/2"].usWeightClass == weight
        assert (font["post"].italicAngle != 0) == (slant == "italic")


def test_zero_is_slashed_as_drawn() -> None:
    """The family has no feature for it: the figure itself has two counters where the letter O has one."""
    for name in ("HoopFigures-Regular.ttf", "HoopFigures-SemiBold.ttf"):
        font = TTFont(FONTS / name)
        glyphs, names = font["glyf"], font.getBestCmap()
        assert glyphs[names[ord("0")]].numberOfContours == 3
        assert glyphs[names[ord("O")]].numberOfContours == 2
        assert "zero" not in {r.FeatureTag for r in font["GSUB"].table.FeatureList.FeatureRecord}


def test_figures_are_tabular() -> None:
    for face in FONT_FILES:
        assert len({text_width(digit, 100.0, face) for digit in "0123456789"}) == 1  # type: ignore[arg-type]


@pytest.mark.parametrize("face", list(FONT_FILES))
def test_width_on_paper_is_as_reckoned(face: str) -> None:
    """Measured on the rasterised page; kerning, which the reckoning leaves out, is worth up to 3 %."""
    text = "Hoop of 247.60 and 0.05 by girth tape"
    sheet = Drawing((Text((20.0, 100.0), text, 6.0, face),), "width")  # type: ignore[arg-type]
    made = pypdfium2.PdfDocument(pdf([sheet], "width", dt.date(2031, 3, 1)))
    image = made[0].render(scale=4.0).to_pil().convert("L").point(lambda v: 255 if v < 128 else 0)
    made.close()
    left, _, right, _ = image.getbbox()
    size = (right - left) / 4.0 / 72.0 * 25.4
    assert size == pytest.approx(text_width(text, 6.0, face), rel=0.03)  # type: ignore[arg-type]


@given(st.lists(st.text("abcdefg 0123", min_size=1, max_size=9), min_size=1, max_size=20), st.floats(10.0, 80.0))
def test_no_line_is_wider_than_it_may(words: list[str], width: float) -> None:
    text = " ".join(words)
    lines = wrapped(text, 3.0, width)
    assert " ".join(lines).split() == text.split()
    assert all(text_width(line, 3.0) <= width or " " not in line for line in lines)


def test_runs_keep_their_faces() -> None:
    lines = wrapped_rich((("one two three", "sentences-bold"), ("four five six", "sentences")), 3.0, 18.0)
    assert next(face for line in lines for _, face in line) == "sentences-bold"
    assert " ".join(text for line in lines for text, _ in line) == "one two three four five six"
    assert len(lines) > 1


@pytest.mark.parametrize("face", list(FONT_FILES))
@pytest.mark.parametrize("text", ["ε = σ/E", "R ≥ √3 c²/t → 5", "Käse №", "日本", "e\u0301"])
def test_printable_text_has_all_its_letters(face: str, text: str) -> None:
    for words, used in printable(text, face):  # type: ignore[arg-type]
        assert missing(words, used) == ""


def test_a_strange_letter_is_refused_at_the_press() -> None:
    with pytest.raises(InputError, match="lettering"):
        pdf([Drawing((Text((20.0, 20.0), "日"),), "x")], "x", dt.date(2031, 3, 1))
