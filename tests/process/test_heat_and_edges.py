"""Strain budget, the grain trap of an anneal, cutting, trimming, drilling."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.process import anneal, cut, drill, size, trim
from hoopwright.process.budget import strain_budget
from hoopwright.process.face_radius import face_strain
from hoopwright.process.shop import ShopCard
from hoopwright.process.workpiece import Workpiece


def strained(work: Workpiece, strain: float, share: float = 1.0) -> Workpiece:
    """The first share of the stations strained evenly."""
    map_ = np.zeros_like(work.plastic_strain)
    map_[: round(share * work.r_mm.size)] = strain
    return replace(work, plastic_strain=map_)


def test_face_strain_is_carried_on_to_the_face(hoop: Workpiece) -> None:
    """A strain that grows straight from the middle is 0.5 of its slope at the faces; layers end at 0.476."""
    map_ = np.abs(np.broadcast_to(hoop.layer, hoop.plastic_strain.shape)) * 0.2
    inside, outside = face_strain(replace(hoop, plastic_strain=map_))
    assert inside == pytest.approx(0.1) and outside == pytest.approx(0.1)


def test_budget_by_hand(hoop: Workpiece, card: ShopCard) -> None:
    """Half of ln 1.44 = 0.1823: 0.15 is 82 %, 0.20 is 110 %."""
    low, high = (strain_budget(strained(hoop, p), card) for p in (0.15, 0.20))
    assert low.worst.value == pytest.approx(82.3, abs=0.1) and low.finding is None
    assert high.worst.value == pytest.approx(109.7, abs=0.1)
    assert high.finding is not None and high.finding.level == "caution" and "110 %" in high.finding.sentence


@pytest.mark.parametrize(("strain", "share"), [(0.005, 0.0), (0.05, 100.0), (0.115, 100.0), (0.13, 0.0)])
def test_grain_trap_from_one_to_twelve_percent(hoop: Workpiece, card: ShopCard, strain: float, share: float) -> None:
    figure, found = anneal.grain_trap(strained(hoop, strain), card)
    assert figure.value == pytest.approx(share)
    assert (found is None) == (share == 0.0)


def test_anneal_of_lightly_strained_sheet_is_a_stop(hoop: Workpiece, card: ShopCard) -> None:
    step = anneal.run(strained(hoop, 0.02), anneal.Anneal(1177.0), card)
    assert [(f.topic, f.level) for f in step.findings] == [("critical-strain", "stop")]
    assert step.workpiece.annealed and np.all(step.workpiece.plastic_strain == 0.0)
    assert np.array_equal(step.workpiece.r_mm, hoop.r_mm)


def test_anneal_between_hits_moves_less_back(hoop: Workpiece, card: ShopCard) -> None:
    """Method paper: 1 %, anneal, then to the 2 % position springs back 0.501 on D instead of 0.559, a tenth less."""

    def face(up: float) -> np.ndarray:
        return hoop.r_mm + up - 0.5 * hoop.thickness_mm * np.cos(hoop.angle_rad)

    _, half, _ = size.stretched(hoop, face(1.22), card.metal)
    straight = size.stretched(half, face(2.44), card.metal)[2].springback_mm
    soft = anneal.annealed(half)
    between = size.stretched(soft, face(2.44), card.metal)[2].springback_mm
    assert between / straight == pytest.approx(0.501 / 0.559, abs=0.03)


def test_cut_keeps_the_metal_and_takes_the_length(flat: Workpiece, card: ShopCard) -> None:
    step = cut.run(flat, cut.Cut("strip", 817.0, 54.5, 3.0), card)
    assert step.workpiece.length_mm == 817.0 and step.workpiece.made_by == ("cut",)
    assert np.array_equal(step.workpiece.thickness_mm, flat.thickness_mm)


@pytest.mark.parametrize("bad", [(0.0, 54.5, 3.0), (800.0, math.inf, 3.0), (800.0, 5.0, 3.0), (800.0, 54.5, -1.0)])
def test_cut_refuses(bad: tuple[float, float, float]) -> None:
    with pytest.raises(InputError):
        cut.Cut("strip", *bad)


def test_trim_takes_the_stations_beyond_the_edges(hoop: Workpiece, card: ShopCard) -> None:
    step = trim.run(hoop, trim.Trim(3.0, 50.0), card)
    assert step.workpiece.z_mm.min() >= 3.0 and step.workpiece.z_mm.max() <= 50.0
    assert step.workpiece.plastic_strain.shape[0] == step.workpiece.z_mm.size < hoop.z_mm.size
    with pytest.raises(InputError, match="swap"):
        trim.Trim(5.0, 4.0)
    with pytest.raises(InputError, match="edges"):
        trim.run(hoop, trim.Trim(100.0, 110.0), card)


def test_holes_before_sizing_stop(hoop: Workpiece, card: ShopCard) -> None:
    early = drill.run(hoop, drill.Drill(72), card)
    assert [(f.topic, f.level) for f in early.findings] == [("holes-before-sizing", "stop")]
    assert drill.run(hoop.after("size hit 1"), drill.Drill(72), card).findings == ()
    with pytest.raises(InputError):
        drill.Drill(0)
