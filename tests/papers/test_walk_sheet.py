"""The walk sheet: on paper, in its frame, legible, extractable, and the same bytes for the same ring."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace

import pypdfium2
import pytest
from handmade import content, figure, finding, rows
from look import outside, smallest_text_mm, text_over_lines, text_over_text

from hoopwright.errors import InputError
from hoopwright.papers.blocks import Block, flowed, kept, space
from hoopwright.papers.cautions import RULE
from hoopwright.papers.drawing.items import Drawing, Text
from hoopwright.papers.drawing.pdf import pdf
from hoopwright.papers.prose import Column, table
from hoopwright.papers.scales import SCALES, scale_text
from hoopwright.papers.sheet_frame import BOTTOM, LEFT, RIGHT, TOP
from hoopwright.papers.walk_content import Shown, WalkContent
from hoopwright.papers.walk_sheet import walk_pdf, walk_sheets

DAY = dt.date(2031, 3, 1)
FRAME = (LEFT, BOTTOM, RIGHT, TOP)
STOP = finding("stop", "XR-7 slips 6.10 % between these rolls; the limit is 5 %.")


@pytest.fixture(scope="module")
def made() -> bytes:
    return walk_pdf(content(), DAY)


def pages(data: bytes) -> list[str]:
    """Text of every page, as a reader would take it out."""
    document = pypdfium2.PdfDocument(data)
    texts = [document[k].get_textpage().get_text_range().replace("\r\n", "\n") for k in range(len(document))]
    document.close()
    return texts


def plain(text: str) -> str:
    return re.sub(r"\s+", " ", text.replace("\u00a0", " ").replace("\u202f", " "))


def test_it_is_a4_and_numbered(made: bytes) -> None:
    document = pypdfium2.PdfDocument(made)
    sizes = {tuple(round(v / 72.0 * 25.4, 1) for v in document[k].get_size()) for k in range(len(document))}
    count = len(document)
    document.close()
    assert sizes == {(210.0, 297.0)}
    assert count >= 2
    for k, text in enumerate(pages(made), start=1):
        assert f"{k} of {count}" in text
        assert "XR-7" in text and "0a1b 2c3d" in text and "2031-03-01" in text


def test_ink_stays_in_the_frame_and_reaches_it(made: bytes) -> None:
    """Rasterised: nothing beyond the frame but the four centring marks, and the frame itself is there."""
    document = pypdfium2.PdfDocument(made)
    dots = 4.0 / 25.4 * 72.0
    for k in range(len(document)):
        image = document[k].render(scale=4.0).to_pil().convert("L")
        for box in ((0, 0, 102, 282), (108, 0, 210, 282), (0, 15, 14, 297), (0, 288, 102, 297), (108, 288, 210, 297)):
            margin = {(0, 0): (0, 0, 102, 9), (108, 0): (108, 0, 210, 9), (0, 15): (0, 15, 14, 147)}.get(box[:2], box)
            part = image.crop(tuple(round(v * dots) for v in margin))
            assert part.getextrema()[0] > 250, (k, margin)
        for inside in ((19.5, 100, 20.5, 101), (199.5, 100, 200.5, 101), (60, 9.5, 61, 10.5), (60, 286.5, 61, 287.5)):
            assert image.crop(tuple(round(v * dots) for v in inside)).getextrema()[0] < 60
    document.close()


def test_only_our_fonts_are_in_it_and_embedded(made: bytes) -> None:
    names = set(re.findall(rb"/BaseFont\s*/(?:[A-Z]{6}\+)?([A-Za-z-]+)", made))
    assert names and all(n.startswith((b"HoopFigures", b"HoopSentences")) for n in names)
    assert made.count(b"/FontFile2") == len(names)


def test_figures_can_be_taken_out_of_it(made: bytes) -> None:
    text = plain(" ".join(pages(made)))
    for wanted in ("815", "2.35", "44.80", "247.60", "R 125.752", "123.395", "764.01", "R 50.775", "40.3 kN", "1.29°"):
        assert wanted in text, wanted
    for words in ("all data invented", "not yet proven", "made", "checked", "released", "Cut the strip", "Do:"):
        assert words in text, words
    assert plain(RULE) in text


def test_it_says_when_it_is_proven() -> None:
    text = plain(" ".join(pages(walk_pdf(content(proven=True), DAY))))
    assert "not yet proven" not in text.replace("First estimate", "")


def test_a_stop_holds_the_sheet_back() -> None:
    held = content((STOP, finding("stop", "The pin is over its stroke."), finding("note", "A note.")))
    first, *rest = pages(walk_pdf(held, DAY))
    assert "Held back." in first
    assert plain(STOP.sentence) in plain(first).replace(" %", " %")
    assert "1 more below" in first
    for word in ("checked", "released"):
        assert word not in first.splitlines()
    assert all("Held back" in page for page in rest)


def test_same_ring_same_bytes(made: bytes) -> None:
    assert walk_pdf(content(), DAY) == made
    assert walk_pdf(content(), DAY + dt.timedelta(days=1)) != made


def all_looks(sheets: tuple[Drawing, ...]) -> None:
    for sheet in sheets:
        assert text_over_text(sheet) == []
        assert text_over_lines(sheet) == []
        assert outside(sheet, FRAME) == []
        assert smallest_text_mm(sheet) >= 2.95


def test_nothing_overlaps() -> None:
    all_looks(walk_sheets(content()))
    all_looks(walk_sheets(content((STOP,) * 5)))


def test_long_words_stay_inside() -> None:
    """Names nobody planned for: a long number, a long purpose, letters of another script, many findings."""
    long = finding("caution", "The aft edge of the ring takes far more than it was ever meant to take, " * 6)
    title = replace(content().title, number="LINER-RING-0000402-A", purpose="Weg durch die Werkstatt, Blech bis Ring")
    name = replace(
        rows()[1], title="Rolling of the contour with a name that goes on and on", subtitle="Ω-Walzen, Работа"
    )
    shown = content((long,) * 9, title=title, rows=(name,) * 14)
    sheets = walk_sheets(shown)
    all_looks(sheets)
    assert len(sheets) > 3
    assert pages(walk_pdf(shown, DAY))


def test_gauges_stand_where_limits_are() -> None:
    text = [s.title for sheet in walk_sheets(content()) for s in _clusters(sheet)]
    assert any("limits 247.50" in t and "measured 247.48" in t for t in text)


def _clusters(sheet: Drawing) -> list[Drawing]:
    from hoopwright.papers.drawing.items import Placed

    found: list[Drawing] = []
    for item in sheet.items:
        if isinstance(item, Placed):
            found += [item.drawing, *_clusters(item.drawing)]
    return found


def test_a_sheet_without_tools_is_a_sheet() -> None:
    bare: WalkContent = content(
        (), blank=None, blank_figures=(), rolls=None, segments=None, stops=None, press=(), answer="", rows=rows()[:1]
    )
    assert "Nothing is found against it." in " ".join(pages(walk_pdf(bare, DAY)))


def test_no_operation_is_refused() -> None:
    with pytest.raises(InputError, match="walk"):
        walk_sheets(content(rows=()))


def test_no_sheet_is_refused() -> None:
    with pytest.raises(InputError, match="sheets"):
        pdf([], "nothing", DAY)


def test_text_reaches_the_page_unharmed() -> None:
    """Signs that mean something to the typesetter are letters here."""
    text = '#let x = $1 * <a> @b "c" \\ [d] {e} _f_ `g` // h'
    data = pdf([Drawing((Text((20.0, 100.0), text),), "signs")], "signs", DAY)
    assert pages(data)[0].strip() == text


def test_flow_breaks_between_blocks_and_keeps_bundles() -> None:
    one = Block(40.0, (Text((0.0, 0.0), "x"),), "one")
    out = flowed([one, kept(one), one, one], 100.0, 130.0)
    assert [[round(y) for y, _ in page] for page in out] == [[0], [0, 40, 80]]
    assert flowed([space(10.0), one], 100.0, 100.0)[0][0][0] == 0.0
    with pytest.raises(InputError, match="height"):
        flowed([Block(140.0, one.items, "tall")], 100.0, 130.0)


def test_scales_are_written_as_ratios() -> None:
    written = [scale_text(s) for s in SCALES]
    assert len(set(written)) == len(SCALES)
    assert {"10 : 1", "1 : 1", "1 : 2.5", "1 : 3", "1 : 6", "1 : 100"} <= set(written)


def test_a_figure_with_room_shows_its_band_beside_it() -> None:
    row = replace(rows()[1], figures=(Shown(figure("spring", 0.595, digits=3, half=0.047)),))
    text = plain(" ".join(pages(walk_pdf(content(rows=(row,)), DAY))))
    assert "0.595" in text and "± 0.047" in text


def test_a_table_that_runs_on_says_its_heads_again() -> None:
    """Sixty rows of 4.72 mm under a head of 5.32: 19 on a page of 100, the head at the top of each."""
    rows = table([Column("hole", 30.0), Column("angle", 30.0)], [(str(n), f"{6 * n}") for n in range(60)])
    pages = flowed(rows, 100.0, 100.0)
    assert len(pages) > 2
    for page in pages:
        assert page[0] == (0.0, rows[0])
        assert page[1][0] == pytest.approx(rows[0].height_mm)
        assert page[-1][0] + page[-1][1].height_mm <= 100.0 + 1e-6
    shown = [block for page in pages for _, block in page if block is not rows[0]]
    assert shown == list(rows[1:])
