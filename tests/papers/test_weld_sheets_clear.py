"""No words of a weld sheet lie over a line or over other words; geometry of what is drawn, not of pixels."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path as FilePath

import pytest

from hoopwright.desk.weld import (
    Sheet,
    nozzle_joint,
    weld_assembly,
    weld_coupons,
    weld_lot,
    weld_qualify,
    weld_setting,
    weld_trials,
)
from hoopwright.desk.weld_fit import FitUpAsked, weld_fit_up
from hoopwright.kernels.profile import Point, line
from hoopwright.papers.drawing.items import Drawing, Group, Item, Path, Placed, Text
from hoopwright.papers.drawing.lettering import text_width
from hoopwright.papers.hot import common

DAY = dt.date(2031, 3, 1)
ENDS = FilePath(__file__).parents[2] / "examples" / "weld" / "ends-HD-402.csv"
SHEET = Sheet("N06625", 0.8)
Box = tuple[float, float, float, float]

TRIALS = """\
power_W,speed_mm_per_s,focus_mm,gap_mm,root_mm,face_mm,underfill_mm,pores_pct,burnt
366,34.5,0,0.01,0.35,0.9,0.02,0.5,0
700,78,0,0.02,0.3,0.8,0.03,0.8,0
660,39,-1.0,0.0,0.6,1.1,0.01,0.3,0
780,41,-1.5,0.0,0.8,1.2,0.01,0.3,0
460,13,0.5,0.02,,,,,1
400,70,0.2,0.05,-0.3,0.7,0.05,1.5,0
750,45,-1.2,0.0,0.6,1.1,0.01,0.3,0
700,40,-1.0,0.0,0.6,1.1,0.012,0.3,0
690,41,-1.1,0.0,0.62,1.1,0.012,0.3,0
"""


TENSILE = """\
kind,tensile_MPa,fracture
weld,771,parent
weld,766,weld edge
weld,774,parent
parent,778,
parent,781,
parent,776,
"""
LIVES = """\
kind,amplitude_MPa,cycles,run_out
weld,300,700000,0
weld,300,1000000,1
weld,400,90000,0
weld,400,180000,0
parent,300,800000,0
parent,300,1000000,1
parent,400,120000,0
parent,400,200000,0
"""


def drawn(items: Iterable[Item], at: Point = (0.0, 0.0), scale: float = 1.0) -> Iterator[tuple[Item, Point, float]]:
    """Every item with the place and scale of the drawing it stands in."""
    for item in items:
        if isinstance(item, Placed):
            inner = (at[0] + scale * item.at[0], at[1] + scale * item.at[1])
            yield from drawn(item.drawing.items, inner, scale * item.scale)
        elif isinstance(item, Group):
            yield from drawn(item.items, at, scale)
        else:
            yield item, at, scale


def box(text: Text, at: Point, scale: float) -> Box:
    """Where the letters stand, without the descenders."""
    wide = text_width(text.text, text.size_mm, text.face)
    left = at[0] + scale * text.at[0] + text.shift[0] - {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * wide
    base = at[1] + scale * text.at[1] + text.shift[1]
    return left, base, left + wide, base + 0.67 * text.size_mm


def straight(path: Path, at: Point, scale: float) -> Iterator[Box]:
    """Lines that are stroked: upright and level ones whole, others in short pieces."""
    for segment in path.segments if path.pen is not None else ():
        if segment.is_arc:
            continue
        (x0, y0), (x1, y1) = segment.start, segment.end
        x0, y0, x1, y1 = at[0] + scale * x0, at[1] + scale * y0, at[0] + scale * x1, at[1] + scale * y1
        level = x0 == x1 or y0 == y1
        count = 1 if level else max(1, round(4.0 * math.hypot(x1 - x0, y1 - y0)))
        for k in range(count):
            ends = [(x0 + n * (x1 - x0) / count, y0 + n * (y1 - y0) / count) for n in (k, k + 1)]
            x, y = sorted(e[0] for e in ends), sorted(e[1] for e in ends)
            yield x[0], y[0], x[1], y[1]


def overlap(one: Box, two: Box) -> bool:
    """Whether two boxes share more than a hair, lines being boxes of no width."""
    hair = 0.05
    apart = one[2] - hair <= two[0] or two[2] <= one[0] + hair or one[3] - hair <= two[1] or two[3] <= one[1] + hair
    return not apart


def faults(drawings: Sequence[Drawing]) -> list[str]:
    found = []
    for page in drawings:
        texts, lines = [], []
        for item, at, scale in drawn(page.items):
            if isinstance(item, Text) and item.text.strip():
                texts.append((item.text, box(item, at, scale)))
            elif isinstance(item, Path):
                lines += list(straight(item, at, scale))
        for k, (words, own) in enumerate(texts):
            found += [f"{page.title}: line through '{words}'" for edge in lines if overlap(own, edge)]
            found += [f"{page.title}: '{words}' over '{more}'" for more, other in texts[k + 1 :] if overlap(own, other)]
            if own[0] < 20.0 or own[2] > 200.0 or own[1] < 10.0 or own[3] > 287.0:
                found.append(f"{page.title}: '{words}' runs off the frame")
    return found


@pytest.fixture
def pages(monkeypatch: pytest.MonkeyPatch) -> list[Drawing]:
    kept: list[Drawing] = []
    real = common.pdf

    def keep(drawings: Sequence[Drawing], title: str, date: dt.date) -> bytes:
        kept.extend(drawings)
        return real(drawings, title, date)

    monkeypatch.setattr(common, "pdf", keep)
    return kept


def test_the_test_sees_a_line_through_words() -> None:
    words = Text((50.0, 100.0), "words", 3.2)
    through = Path((line((40.0, 101.0), (80.0, 101.0)),))
    above = Path((line((40.0, 104.0), (80.0, 104.0)),))
    beside = Path((line((52.0, 90.0), (52.0, 110.0)),))
    assert len(faults([Drawing((words, through), "p")])) == 1
    assert faults([Drawing((words, above), "p")]) == []
    assert len(faults([Drawing((words, beside), "p")])) == 1
    sloped = Path((line((45.0, 95.0), (58.0, 108.0)),))
    assert faults([Drawing((words, sloped), "p")])
    assert len(faults([Drawing((words, Text((53.0, 100.5), "others", 3.2)), "p")])) == 1


def test_every_weld_sheet_is_clear(pages: list[Drawing], tmp_path: FilePath) -> None:
    trials = tmp_path / "trials.csv"
    trials.write_text(TRIALS, encoding="utf-8")
    weld_setting(SHEET, (600.0, 40.0, 0.3, 0.0), None, False, (0.03, 0.015), tmp_path / "s", DAY)
    weld_trials(SHEET, None, 1, 20, tmp_path / "t", DAY)
    weld_trials(SHEET, trials, 1, 20, tmp_path / "u", DAY)
    weld_coupons(SHEET, 0.015, 0.98, 0.90, tmp_path / "c", DAY)
    weld_lot(None, "W07", 0.8, 764.01, "demo-house", None, tmp_path / "l", DAY)
    weld_assembly(None, 1.0, nozzle_joint("N06002,N06625,247.0,247.2"), True, None, tmp_path / "a", DAY)
    tensile, lives = tmp_path / "tensile.csv", tmp_path / "lives.csv"
    tensile.write_text(TENSILE, encoding="utf-8")
    lives.write_text(LIVES, encoding="utf-8")
    weld_qualify(SHEET, tensile, lives, 340.0, None, tmp_path / "q", DAY)
    read = FitUpAsked("house", None, (0.03, 0.12, 0.02), (0.01, 0.02, 0.01), None)
    weld_fit_up(None, "HD-404", read, None, tmp_path / "f", DAY)
    weld_fit_up(None, "HD-402", FitUpAsked(ends=ENDS), None, tmp_path / "e", DAY)
    assert len(pages) >= 16
    assert faults(pages) == []
