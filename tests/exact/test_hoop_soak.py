"""Long runs of the hoop kernel: random full rings, ladders of edges, layers and steps."""

from __future__ import annotations

import numpy as np
import pytest

from hoopwright.kernels.hoop import Fineness, Harmonic, InitialShape, flat_section
from tests.kernels.hoop_cases import METAL, RADIUS, random_ring, sized, weld_of


@pytest.mark.soak
@pytest.mark.parametrize("seed", [7, 8])
@pytest.mark.parametrize("number", range(24))
def test_every_random_ring_is_found(seed: int, number: int) -> None:
    result = random_ring(seed, number)
    hit = result.hits[0]
    assert result.symmetry == "full" and result.converged
    assert result.residual_share < 1e-6
    load = hit.segments
    total = np.array([np.cos(load.angle_rad), np.sin(load.angle_rad)]) @ load.force_N
    total += np.array([-np.sin(load.angle_rad), np.cos(load.angle_rad)]) @ load.side_N
    assert np.max(np.abs(total)) < 1e-4 * hit.gap_tension_N
    assert abs(hit.work.left) < 5e-3 * hit.work.tools
    # pulled down on the segments: what is left are lobes and flats
    assert result.loaded.peak_to_valley_mm < 1.5


@pytest.mark.soak
@pytest.mark.parametrize("friction", [0.0, 0.15])
def test_ladder_of_edges(friction: float) -> None:
    """Halving all edges brings the figures together; the last two rungs agree within a fifth of the tolerances."""
    rungs = [sized(friction=friction, fineness=Fineness(edge_mm=h, far_mm=8.0 * h)) for h in (0.4, 0.2, 0.1, 0.05)]
    high = [r.free.peak_to_valley_mm for r in rungs]
    lobe = [r.free.lobe_mm for r in rungs]
    wide = [r.free.mean_diameter_mm for r in rungs]
    assert abs(high[3] - high[2]) < 0.006 * high[3]
    assert abs(lobe[3] - lobe[2]) < 0.004 * lobe[3]
    assert abs(wide[3] - wide[2]) < 4e-4
    assert abs(high[3] - high[0]) > abs(high[3] - high[2])


@pytest.mark.soak
def test_ladder_of_layers_and_steps() -> None:
    base = sized(section=flat_section(1.2, 1.0, METAL, 25), fineness=Fineness(steps=400))
    for layers, steps in ((3, 30), (5, 30), (11, 30), (5, 120), (5, 400)):
        other = sized(section=flat_section(1.2, 1.0, METAL, layers), fineness=Fineness(steps=steps))
        assert other.free.lobe_mm == pytest.approx(base.free.lobe_mm, rel=2e-3)
        assert other.free.mean_diameter_mm == pytest.approx(base.free.mean_diameter_mm, abs=2e-4)
        assert other.loaded.strain_log.max() == pytest.approx(base.loaded.strain_log.max(), rel=5e-3)


@pytest.mark.soak
def test_full_ring_on_finer_edges() -> None:
    shape, weld = InitialShape(RADIUS, (Harmonic(3, 1.0),)), weld_of(0.9, 0.4)
    base = sized(count=10, friction=0.1, shape=shape, weld=weld)
    fine = sized(count=10, friction=0.1, shape=shape, weld=weld, fineness=Fineness(edge_mm=0.08, far_mm=1.0))
    assert fine.nodes > 2.5 * base.nodes
    assert fine.free.mean_diameter_mm == pytest.approx(base.free.mean_diameter_mm, abs=5e-4)
    assert fine.free.wave(3) == pytest.approx(base.free.wave(3), rel=0.02)
    assert fine.free.wave(10) == pytest.approx(base.free.wave(10), rel=0.01)
    assert fine.free.peak_to_valley_mm == pytest.approx(base.free.peak_to_valley_mm, rel=0.02)
