"""The few fibres of a contoured ring against all its cells and against the section's own chain."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hoopwright.errors import InputError
from hoopwright.kernels.hoop.round_tool import round_hits
from hoopwright.process.hooping.fibres import hoop_fibres
from hoopwright.process.shop import ShopCard
from hoopwright.process.size import stretched
from hoopwright.process.workpiece import Workpiece

UP_MM = 2.1
STRETCH = 0.017


@pytest.fixture
def worked(hoop: Workpiece) -> Workpiece:
    """The hat worked unevenly: flats a little, corners much, as rolling leaves it."""
    bent = np.abs(hoop.curvature_per_mm) > 1e-6
    strain = np.where(bent, 0.12, 0.01)[:, None] * np.abs(2.0 * hoop.layer)[None, :]
    return replace(hoop, plastic_strain=strain)


def test_area_place_and_girth_are_kept(worked: Workpiece, card: ShopCard) -> None:
    fibres = hoop_fibres(worked, card.metal, 53.0, STRETCH)
    area = worked.weight_mm * worked.thickness_mm
    assert fibres.section.area_mm2 == pytest.approx(worked.area_mm2, rel=1e-12)
    assert fibres.axis_radius_mm == pytest.approx(float(area @ worked.r_mm / area.sum()), abs=1e-9)
    areas, offsets = np.array(fibres.section.areas_mm2), np.array(fibres.section.offsets_mm)
    assert abs(float(areas @ offsets)) < 1e-9
    assert np.all(np.diff(offsets) > 0.0)


@pytest.mark.parametrize(("rows", "columns"), [(4, 1), (4, 2), (8, 4), (16, 8)])
def test_tension_and_springback_of_all_cells(worked: Workpiece, card: ShopCard, rows: int, columns: int) -> None:
    """Against the chain of all stations and layers, two stresses each: 0.1 % of tension, 0.002 on the free diameter
    (one stress instead of two is worth 0.0013 on 280, method paper on segmented sizing, section 5)."""
    fibres = hoop_fibres(worked, card.metal, 53.0, STRETCH, rows, columns)
    face = worked.r_mm + UP_MM - 0.5 * worked.thickness_mm * np.cos(worked.angle_rad)
    area = worked.weight_mm * worked.thickness_mm
    tool = float(area @ face / area.sum())
    even = round_hits(fibres.section, fibres.axis_radius_mm, [tool], [False])[0]
    _loaded, _free, sized = stretched(worked, face, card.metal)
    assert even.tension_N == pytest.approx(sized.hoop_tension_N, rel=1e-3)
    assert 2.0 * (even.loaded_radius_mm - even.free_radius_mm) == pytest.approx(2.0 * sized.springback_mm, abs=0.002)


def test_mean_work_would_give_too_much(worked: Workpiece, card: ShopCard) -> None:
    """The flow curve bends: fibres of mean work carry more than their cells. Ours are worked less than the mean."""
    fibres = hoop_fibres(worked, card.metal, 53.0, STRETCH, 2, 1)
    area = np.array(fibres.section.areas_mm2)
    state = fibres.section.fibre_state()
    mean = float(area @ np.array(state.plastic_strain) / area.sum())
    cells = worked.weight_mm * worked.thickness_mm
    assert mean < float(cells @ worked.plastic_strain.mean(axis=1) / cells.sum()) - 0.001


def test_stress_that_one_fibre_cannot_hold_is_said(hoop: Workpiece, card: ShopCard) -> None:
    held = card.metal.flow.stress(0.0)
    plain = hoop_fibres(replace(hoop, stress_hoop_MPa=np.full_like(hoop.plastic_strain, 0.9 * held)), card.metal, 53.0,
                        STRETCH)  # fmt: skip
    over = hoop_fibres(replace(hoop, stress_hoop_MPa=np.full_like(hoop.plastic_strain, 1.1 * held)), card.metal, 53.0,
                       STRETCH)  # fmt: skip
    assert plain.let_go_MPa == 0.0
    assert over.let_go_MPa == pytest.approx(0.1 * held)


def test_a_strip_is_refused(flat: Workpiece, hoop: Workpiece, card: ShopCard) -> None:
    with pytest.raises(InputError, match="close and weld"):
        hoop_fibres(flat, card.metal, 53.0, STRETCH)
    with pytest.raises(InputError, match="2 rows"):
        hoop_fibres(hoop, card.metal, 53.0, STRETCH, 1, 1)
