"""Rolling: corner strain, shares of the contour, slip and bend radius, and the closed ring."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.findings import Figure, Input, Source
from hoopwright.process import roll
from hoopwright.process.shop import ShopCard
from hoopwright.process.workpiece import Workpiece

GIVEN = Source("given", "test")


def slip(percent: float) -> Figure:
    pitch = Input("R_p", "pitch radius", 50.0, "mm", GIVEN)
    return Figure("HAT/roll/slip", "slip", percent, "pct", GIVEN, inputs=(pitch,))


def one_pass(contour: roll.Contour, card: ShopCard, share: float = 1.0, percent: float = 4.7) -> roll.RollPass:
    return roll.RollPass(1, 1, share, contour, card.limits.roll_pitch_radius_mm, slip(percent))


def test_corner_strain_by_hand(flat: Workpiece, contour: roll.Contour, card: ShopCard) -> None:
    """R 3, t 0.8, layer at 0.476 t: 2/sqrt3 x 0.381/3 less the yield strain 361.5/205000."""
    after = roll.rolled(flat, contour, 1.0, "roll", card)
    tight = np.isclose(np.abs(contour.curvature_per_mm), 1.0 / 3.0)
    by_hand = 2.0 / math.sqrt(3.0) * 0.8 * (10.0 / 21.0) / 3.0 - card.metal.yield_strain
    assert after.plastic_strain[tight][:, [0, -1]] == pytest.approx(by_hand)
    assert np.all(after.plastic_strain[contour.curvature_per_mm == 0.0] == 0.0)


def test_section_mean_after_rolling(flat: Workpiece, contour: roll.Contour, card: ShopCard) -> None:
    """The method paper on rolling has 0.0093 over the section from a full kernel; the closed form lies below it."""
    after = roll.rolled(flat, contour, 1.0, "roll", card)
    mean = float(np.average(after.plastic_strain.mean(axis=1), weights=after.weight_mm))
    assert 0.0065 <= mean <= 0.0093


def test_a_share_of_the_contour(flat: Workpiece, contour: roll.Contour, card: ShopCard) -> None:
    half = roll.rolled(flat, contour, 0.5, "roll", card)
    assert half.angle_rad == pytest.approx(0.5 * contour.angle_rad)
    assert 0.4 < np.ptp(half.r_mm) / np.ptp(contour.height_mm) < 0.6
    assert half.plastic_strain.max() < roll.rolled(flat, contour, 1.0, "roll", card).plastic_strain.max()


def test_strain_never_falls_from_pass_to_pass(flat: Workpiece, contour: roll.Contour, card: ShopCard) -> None:
    strain = flat.plastic_strain
    work = flat
    for share in (0.25, 0.5, 0.75, 1.0):
        work = roll.rolled(work, contour, share, "roll", card)
        assert np.all(work.plastic_strain >= strain)
        strain = work.plastic_strain


def test_slip_within_the_limit_says_nothing(flat: Workpiece, contour: roll.Contour, card: ShopCard) -> None:
    step = roll.run(flat, one_pass(contour, card), card)
    assert step.findings == ()
    assert step.title == "Roll, pass 1 of 1"


def test_slip_past_the_limit_stops_and_names_the_radius(card: ShopCard) -> None:
    found = roll.slip_finding("HAT", slip(6.1), card)
    assert found is not None and found.level == "stop"
    assert "6.10 %" in found.sentence and "61 or more" in found.remedy and "8 %" in found.remedy
    assert roll.slip_finding("HAT", slip(5.0), card) is None
    far = roll.slip_finding("HAT", slip(15.0), card)
    assert far is not None and "idle" in far.remedy and "coated" not in far.remedy


@pytest.mark.parametrize(("radius", "level"), [(2.1, None), (1.9, "caution"), (1.1, "stop")])
def test_bend_radius_against_two_and_one_thickness(
    flat: Workpiece, contour: roll.Contour, card: ShopCard, radius: float, level: str | None
) -> None:
    """Inside radius over t 0.8: 2.1 -> 2.13 t, 1.9 -> 1.88 t, 1.1 -> 0.88 t; the house plans 2 and refuses below 1."""
    tight = replace(contour, curvature_per_mm=np.sign(contour.curvature_per_mm) / radius)
    found = [f for f in roll.run(flat, one_pass(tight, card), card).findings if f.topic == "bend-radius"]
    assert [f.level for f in found] == ([level] if level else [])


def test_only_the_last_pass_is_judged(flat: Workpiece, contour: roll.Contour, card: ShopCard) -> None:
    first = roll.RollPass(1, 3, 0.3, contour, card.limits.roll_pitch_radius_mm, slip(9.0))
    assert roll.run(flat, first, card).findings == ()


def test_pass_settings_out_of_range(contour: roll.Contour, card: ShopCard) -> None:
    with pytest.raises(InputError, match="pass"):
        roll.RollPass(4, 3, 1.0, contour, card.limits.roll_pitch_radius_mm, slip(1.0))
    for share in (0.0, 1.1, math.nan):
        with pytest.raises(InputError, match="share"):
            roll.RollPass(1, 1, share, contour, card.limits.roll_pitch_radius_mm, slip(1.0))


def test_rolling_in_the_closed_ring_ends_on_the_ring(hoop: Workpiece, contour: roll.Contour, card: ShopCard) -> None:
    cone = hoop.after("weld", r_mm=np.full_like(hoop.r_mm, 122.0), angle_rad=np.zeros_like(hoop.r_mm))
    half = roll.run_closed(cone, hoop, replace(one_pass(contour, card), share=0.5), card, last=False)
    whole = roll.run_closed(cone, hoop, one_pass(contour, card), card, last=True)
    assert whole.workpiece.r_mm == pytest.approx(hoop.r_mm)
    assert half.workpiece.r_mm == pytest.approx(0.5 * (hoop.r_mm + 122.0))
    assert half.workpiece.form == "hoop"


def test_every_pass_stands_in_the_frame_of_the_last(flat: Workpiece, contour: roll.Contour, card: ShopCard) -> None:
    """On an arc blank of 20 degrees the heights of a last share of 0.999 lie on those of the finished contour."""
    lean = math.radians(20.0)
    width, angle = flat.weight_mm, contour.angle_rad + lean
    rise = width * (np.sin(angle) - math.sin(lean))
    height, along = (np.cumsum(part) - 0.5 * part for part in (rise, width * np.cos(angle)))
    height -= float(np.average(height, weights=width))
    turned = replace(contour, z_mm=7.0 + along, height_mm=height, angle_rad=angle, pitch_angle_rad=lean)
    nearly = roll.rolled(flat, turned, 0.999, "roll", card)
    assert nearly.r_mm == pytest.approx(turned.height_mm, abs=0.01)
    assert nearly.z_mm == pytest.approx(turned.z_mm, abs=0.01)
    first = roll.rolled(flat, turned, 1e-6, "roll", card)
    assert first.r_mm == pytest.approx(np.zeros_like(flat.s_mm), abs=1e-4)
