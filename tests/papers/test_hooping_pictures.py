"""Pictures of a ring on its segments: what they show, and that they are the same twice."""

from __future__ import annotations

import xml.etree.ElementTree as tree
from dataclasses import replace

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.papers.drawing.items import Hatch, Path
from hoopwright.papers.drawing.svg import svg
from hoopwright.papers.hooping.girth_strain import CELLS, girth_strain
from hoopwright.papers.hooping.notebook import RingPictures
from hoopwright.papers.hooping.ring import exaggeration, ring_on_segments, segment_outline
from hoopwright.papers.hooping.roundness import polar_roundness
from hoopwright.papers.hooping.spread_picture import spread_picture
from hoopwright.papers.hooping.view import HitView, Trace
from hoopwright.plan.study.judged import Limit
from hoopwright.plan.study.study import Study, Told

TURN = 2.0 * np.pi


def view(share: float = 60.0) -> HitView:
    """Eight segments of radius 123.3, a ring with two lobes of 0.05 as welded and lobes of 0.01 after."""
    clock = np.linspace(0.0, TURN, 721)[:-1]
    shares = np.full(clock.size, share)
    shares[100:110] = 120.0
    return HitView(
        name="HD-402",
        number=1,
        of=2,
        count=8,
        slot_mm=4.2,
        edge_radius_mm=1.0,
        turned_mm=123.3,
        position_mm=123.3,
        incoming=Trace(clock, 122.0 + 0.05 * np.cos(2.0 * clock)),
        loaded=Trace(clock, 123.7 + 0.001 * np.cos(8.0 * clock)),
        free=Trace(clock, 123.4 + 0.01 * np.cos(8.0 * clock)),
        thickness_mm=0.8,
        clock_rad=clock,
        strain_log=0.015 + 0.003 * np.cos(8.0 * clock),
        share_pct=shares,
        seam_rad=0.2,
        zone_rad=0.02,
    )


def test_ring_on_segments() -> None:
    plain = ring_on_segments(view())
    titles = [item.title for item in plain.items if isinstance(item, Path)]
    assert titles.count("the ring, loaded") == 1 and titles.count("the seam") == 1
    assert sum(title.startswith("segment ") for title in titles) == 8
    assert "at true scale" in plain.title
    assert exaggeration(view(), "incoming") == 200.0 and exaggeration(view(), "loaded") == 500.0
    assert "× 200" in ring_on_segments(view(), "incoming", 200.0).title
    for state in ("incoming", "loaded", "free"):
        tree.fromstring(svg(ring_on_segments(view(), state, exaggeration(view(), state)), 0.4))
    with pytest.raises(InputError, match="state of the ring"):
        ring_on_segments(view(), "warm")
    with pytest.raises(InputError, match="exaggeration"):
        ring_on_segments(view(), "free", 0.0)


def test_segment_outline_is_the_tool() -> None:
    """In the middle the turned radius; the rounded edge ends half a slot from the middle of the slot."""
    angle, radius = segment_outline(view(), 123.3)
    assert radius.max() == pytest.approx(123.3)
    edge = np.pi / 8.0
    across = radius[-1] * np.sin(edge - angle[-1])
    assert across == pytest.approx(2.1, abs=0.05)


def test_roundness() -> None:
    drawn = polar_roundness(view(), ("loaded", "free"))
    assert "let off: peak to valley 0.020" in drawn.description
    assert "a line of the grid is 0.010" in drawn.description
    assert svg(drawn) == svg(polar_roundness(view(), ("loaded", "free")))


def test_strain_is_washed_and_hatched_where_the_limit_is_passed() -> None:
    drawn = girth_strain(view())
    washes = {item.fill for item in drawn.items if isinstance(item, Path) and (item.fill or "").startswith("wash")}
    assert {"wash3", "wash5"} <= washes <= {"wash3", "wash4", "wash5"}
    assert sum(isinstance(item, Hatch) for item in drawn.items) == 2
    assert "at most 120\xa0%" in drawn.description
    calm = girth_strain(replace(view(), share_pct=np.full(720, 60.0)))
    assert not any(isinstance(item, Hatch) for item in calm.items)
    assert CELLS == 720


def test_spread_picture() -> None:
    counts = tuple(range(30))
    edges = tuple(247.5 + 0.01 * k for k in range(31))
    told = Told("free-lip-dia", 247.52, 247.6, 247.68, 0.05, Limit("free-lip-dia", 247.5, 247.7, "drawing"), 96.5,
                (0.7, 0.2), (0.75, 0.25), 0.001, 0.003, 0.0, counts, edges)  # fmt: skip
    study = Study(("flow stress (yield)", "friction"), (told,), 96.5, 2000, 256, 96, False, 1, (), ())
    text = svg(spread_picture(study, ("free-lip-dia",))).replace("\xa0", " ")
    assert "96.5 % inside" in text and "flow stress (yield)" in text and "75 %" in text
    with pytest.raises(KeyError):
        spread_picture(study, ("weight",))


def test_a_notebook_shows_every_hit() -> None:
    shown = RingPictures((view(), replace(view(), number=2)))._repr_html_()
    assert shown.count("<svg") == 8 and shown.count("<div>") == 2
