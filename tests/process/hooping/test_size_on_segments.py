"""The operation on segments: what it adds to the section, its figures, findings and refusals."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from hoopwright.design.demo import demo_liner
from hoopwright.errors import InputError
from hoopwright.findings import Source
from hoopwright.kernels.hoop import Harmonic
from hoopwright.kernels.segment_hull import SegmentCircle, envelope_harmonic
from hoopwright.process.hooping.findings import Drawing
from hoopwright.process.hooping.measures import equivalent_tension, held_peak_to_valley, round_of
from hoopwright.process.hooping.operation import SeamZone, SegmentHit, hooped
from hoopwright.process.hooping.run import run
from hoopwright.process.shop import ShopCard
from hoopwright.process.size import stretched
from hoopwright.process.workpiece import Workpiece
from tests.process.hooping.hooped_rings import operation

DRAWING = Drawing(demo_liner().tolerances, Source("given", "demonstration drawing", True))


def test_many_segments_without_friction_add_nothing(hoop: Workpiece, card: ShopCard) -> None:
    """On 180 segments with hair slots the section alone is left: within 0.0005 on the diameter (mesh, contact)."""
    drive = replace(operation(hoop).drive, count=180)
    even = operation(hoop, slot_mm=0.02, edge_radius_mm=0.05, friction=0.0, drive=drive, count=180)
    done = hooped(hoop, even, card.metal).last
    assert abs(done.added_free_mm) < 5e-4
    assert abs(done.added_loaded_mm) < 5e-4
    _loaded, free, _sized = stretched(hoop, even.surface_mm, card.metal)
    assert done.free.r_mm == pytest.approx(free.r_mm, abs=3e-4)


def test_standing_segments_print_lobes(hoop: Workpiece, card: ShopCard) -> None:
    """Lobes of the hull to first order, 97 % of them kept (method paper, sections 1 and 3); the second-order term and
    the flats of 4.2 slots add some hundredths."""
    done = hooped(hoop, operation(hoop, up_mm=0.1, hits=(SegmentHit(2.0),)), card.metal)
    assert done.result.symmetry == "half pitch"
    assert done.last.hoop.free.lobe_mm == pytest.approx(0.97 * envelope_harmonic(8, 2.0), rel=0.08)
    hull = SegmentCircle(8, done.tool.turned_radius_mm + done.fibres.section.axis_height_mm, 2.0, 4.2)
    girth = 2.0 * hull.mean_radius_mm
    assert done.last.hoop.loaded.mean_diameter_mm == pytest.approx(girth, abs=0.02)


def test_a_second_hit_half_a_pitch_on_smooths(hoop: Workpiece, card: ShopCard) -> None:
    ask = operation(hoop, up_mm=0.1, hits=(SegmentHit(2.0), SegmentHit(2.0, 22.5)))
    first, second = hooped(hoop, ask, card.metal).hits
    assert 0.0 < second.hoop.free.lobe_mm < 0.8 * first.hoop.free.lobe_mm


def test_tension_by_segment_forces(hoop: Workpiece, card: ShopCard) -> None:
    done = hooped(hoop, operation(hoop), card.metal)
    assert equivalent_tension(done, 1) == pytest.approx(done.last.hoop.gap_tension_N, rel=1e-5)


def test_round_figures(hoop: Workpiece, card: ShopCard) -> None:
    """Thickness falls by half the strain; the strain is least over the segment middles and most over the slots."""
    ask = operation(hoop)
    done = hooped(hoop, ask, card.metal)
    around = round_of(done, 1, ask.drawn_mm, card)
    most, least = int(np.argmax(around.strain_log)), int(np.argmin(around.strain_log))
    ratio = around.least_thickness_mm[most] / around.least_thickness_mm[least]
    assert math.log(ratio) == pytest.approx(-0.5 * (around.strain_log[most] - around.strain_log[least]), rel=1e-9)
    off = abs((math.degrees(float(around.angle_rad[most])) % 45.0) - 22.5)
    assert off < 3.0
    assert not around.seam.any()
    assert held_peak_to_valley(done.last.hoop.free) == pytest.approx(done.last.hoop.free.peak_to_valley_mm, rel=0.05)


def test_step_of_a_ring_with_seam_and_oval(hoop: Workpiece, card: ShopCard) -> None:
    ask = operation(
        hoop, seam=SeamZone(2.4, 1.0, 0.0), waves=(Harmonic(2, 1.0, 0.0),), hits=(SegmentHit(0.0),)
    )  # half the ring stands for it
    step = run(hoop, ask, card, DRAWING)
    known = {figure.identity.removeprefix("HAT/segments-run/hit-1/"): figure for figure in step.figures}
    assert step.workpiece.form == "hoop" and step.workpiece.made_by[-1] == "size on segments"
    lip = known["free-lip-dia"]
    assert lip.value == pytest.approx(lip.inputs[0].value + lip.inputs[1].value)  # type: ignore[operator]
    assert 0.01 < known["two-lobes"].value < 0.05
    waves = {wave.order: wave.amplitude_mm for wave in step.workpiece.harmonics}
    assert waves[2] == pytest.approx(known["two-lobes"].value)
    assert known["pull"].value > known["hold"].value > 0.0 == known["withdraw"].value
    # a seam of the parent's own metal over a segment's middle takes what the middle takes
    assert known["seam-strain"].value == pytest.approx(known["strain-least"].value, rel=0.02)
    assert all(math.isfinite(figure.value) for figure in step.figures)


def test_findings_bite(hoop: Workpiece, card: ShopCard) -> None:
    """A tool 1.4 mm too large, slots that overlap at first touch, edges that mark, a drawing nobody can keep."""
    strict = replace(
        DRAWING,
        tolerances=replace(
            DRAWING.tolerances,
            roundness_restrained_radial_mm=0.001,
            roundness_free_state_radial_mm=0.001,
            thickness_min_after_forming_mm=0.795,
        ),
    )
    ask = operation(hoop, up_mm=3.5, slot_mm=2.2, edge_radius_mm=0.3)
    topics = {finding.topic: finding for finding in run(hoop, ask, card, strict).findings}
    wanted = {"segments-size", "segments-round-held", "segments-round", "segments-thin", "segments-overlap"}
    assert wanted <= set(topics)
    assert "over each other" in topics["segments-overlap"].sentence
    assert all(finding.remedy for finding in topics.values())


def test_a_good_ring_has_no_stop(hoop: Workpiece, card: ShopCard) -> None:
    """The hat to its drawing (land 246.90, lip 247.60): nothing says stop."""
    _loaded, free, _sized = stretched(hoop, operation(hoop).surface_mm, card.metal)
    aim = operation(hoop, up_mm=2.1 + 123.4 - float(free.r_mm.min()))
    found = run(hoop, aim, card, DRAWING).findings
    assert [finding.topic for finding in found if finding.level == "stop"] == []


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"slot_mm": 60.0}, "slot width is 60"),
        ({"seam": SeamZone(95.0)}, "weld width is 95"),
        ({"count": 2, "drive": None}, "count of segments is 2"),
        ({"up": -1.0}, "the stretch is negative"),
        ({"errors_mm": (0.01, 0.0)}, "a list of 8"),
        ({"edge_radius_mm": 60.0}, "edge radius is 60"),
        ({"friction": 1.4}, "friction is 1.4"),
        ({"hits": (SegmentHit(-7.0),)}, "where the slots close|the stretch is negative"),
    ],
)
def test_nonsense_is_refused(hoop: Workpiece, card: ShopCard, changes: dict[str, object], words: str) -> None:
    more = dict(changes)
    up = float(more.pop("up", 2.1))  # type: ignore[arg-type]
    if "drive" in more:
        more["drive"] = replace(operation(hoop).drive, count=2)
    with pytest.raises(InputError, match=words) as told:
        hooped(hoop, operation(hoop, up_mm=up, **more), card.metal)
    assert told.value.remedy


def test_settings_are_refused(hoop: Workpiece) -> None:
    with pytest.raises(InputError, match="at least one hit"):
        operation(hoop, hits=())
    with pytest.raises(InputError, match="segments of the drive"):
        operation(hoop, count=10, drive=operation(hoop).drive)
    with pytest.raises(InputError, match="finite"):
        SegmentHit(math.nan)
    with pytest.raises(InputError, match="above 0"):
        SeamZone(0.0)
