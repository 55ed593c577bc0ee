"""The linear shell against an axisymmetric solid by the general finite-element library."""

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from hoopwright.design.demo import demo_liner
from hoopwright.kernels.profile import Profile, line
from hoopwright.kernels.shell_links import AXIAL, Hold
from hoopwright.kernels.shell_stack import shell_stack
from hoopwright.kernels.shell_stack_mesh import strand
from hoopwright.kernels.shell_stack_stress import stack_stress
from hoopwright.plan.hot.constraint import plan_constraint
from hoopwright.plan.hot.job import HotJob, hot_job
from hoopwright.plan.hot.model import HotModel, hot_model, port_place

sys.path.insert(0, str(Path(__file__).parent))

from solid_rings import Answer, Solid, block, joined, sheet, solved

R, T, E, NU, DE = 120.0, 0.8, 160e3, 0.32, 1e-3
OFF_WELD_MM = 1.6


def test_butt_pair() -> None:
    """Bars: stress within 1 % beyond one thickness from the weld; displacement within 2 um. Strain steps at z = 0."""
    z = np.unique(np.concatenate((np.linspace(-40.0, 40.0, 161), np.linspace(-3.0, 3.0, 61))))
    halves = [sheet(part, np.full(part.size, R), T, e, E, 4) for part, e in ((z[z <= 0.0], 0.0), (z[z >= 0.0], DE))]
    solid = solved(joined(halves), NU, (np.array([-40.0, R]),))
    one = strand(Profile((line((-40.0, R), (40.0, R)),)), T, (40.0,), 0.25, 0.25)
    shell = shell_stack((one,), (E,), NU, (), (Hold((0, 0), AXIAL),))
    e = np.where(one.z > 1e-9, DE, 0.0)
    e[one.node_at(40.0)] = 0.5 * DE
    moved = shell.displaced(e)
    for place in (-10.0, -5.0, 5.0, 10.0):
        assert moved[one.node_at(40.0 + place), 0] == pytest.approx(solid.at(place, R)[1], abs=2e-3)
    told = stack_stress(shell, moved, e)[0]
    clear = np.abs(told.s - 40.0) > T
    middle = solid.solid.points[solid.solid.quads].mean(axis=1)
    beyond = (np.abs(middle[:, 0]) > T) & (np.abs(middle[:, 0]) < 30.0)
    shell_peak, solid_peak = told.mises[clear].max(), solid.mises[beyond].max()
    print(f"butt pair: shell {shell_peak / (E * DE):.4f}, solid {solid_peak / (E * DE):.4f} of E de")
    assert shell_peak == pytest.approx(solid_peak, rel=0.01)
    # printed figures of our own study: shell 0.4686, solid 0.4651
    assert shell_peak / (E * DE) == pytest.approx(0.4686, abs=0.004)


def liner_solid(
    job: HotJob, weld_mm: float, step: float = 0.8, fine: float = 0.25, reach: float = 4.0, layers: int = 2
) -> Answer:
    """The whole demonstration liner as a solid, each weld a block of metal `weld_mm` wide between its two sheets."""
    solids: list[Solid] = []
    meshes = {}
    for k, part in enumerate(job.parts):
        cells = 2 * max(1, round(0.5 * weld_mm / fine))
        extra = [w + d * weld_mm for w in welds_of(job, k) for d in np.linspace(-0.5, 0.5, cells + 1)]
        if k == job.plate:
            extra.append(port_place(job))
        meshes[k] = strand(part.section, part.thickness_mm, tuple(extra), step, fine, reach)
        e = float(part.strain.at(part.places[0].metal_degC))
        young = part.alloy.young_modulus_MPa(part.places[0].metal_degC).value
        solids.append(sheet(meshes[k].z, meshes[k].r, part.thickness_mm, e, young, layers))
    for tie in job.ties:
        faces = []
        for k, s, sense in ((tie.inner, tie.inner_s_mm, 1.0), (tie.outer, tie.outer_s_mm, -1.0)):
            near = np.flatnonzero(np.abs(meshes[k].s - s) <= 0.5 * weld_mm + 1e-6)
            order = near[np.argsort(meshes[k].z[near])]
            half = 0.5 * job.parts[k].thickness_mm
            faces.append(np.stack((meshes[k].z[order], meshes[k].r[order] + sense * half), axis=1))
        strains = [float(job.parts[k].strain.at(job.parts[k].places[0].metal_degC)) for k in (tie.inner, tie.outer)]
        solids.append(block(faces[0], faces[1], 0.5 * sum(strains), 160e3))
    return solved(joined(solids), NU, (np.array([152.0, 69.0]),))


def welds_of(job: HotJob, part: int) -> list[float]:
    """Distances along a part's section at which it is welded."""
    return [t.outer_s_mm for t in job.ties if t.outer == part] + [t.inner_s_mm for t in job.ties if t.inner == part]


PLACES = (("ports", (0.0, 91.0)), ("aft lip", (152.0, 95.0)))


@pytest.fixture(scope="module")
def demo_job() -> HotJob:
    return hot_job(demo_liner())


def moved_along(model: HotModel) -> dict[str, float]:
    """Axial movement of ports and aft outer lip by the shell."""
    job, moved = model.job, model.moved()
    nodes = {"ports": model.node(job.plate or 0, port_place(job)), "aft lip": model.end(job.aft_outer or 0)}
    return {name: float(moved[node, 1]) for name, node in nodes.items()}


@pytest.mark.parametrize("weld", [0.3, 0.6, 1.0, 1.6])
def test_whole_liner_moves_as_the_solid_with_the_same_welds(demo_job: HotJob, weld: float) -> None:
    """Bar: displacement within 2 um, for welds as wide in the shell as in the solid. Reached: 0.3 um.

    A tie without width lies 4 to 10 um off the solids at the lip, whichever their weld: it neither clamps the sheets
    over a width nor turns in the metal of the foot. The solid's own mesh is converged to 0.3 um (next test).
    """
    ties = tuple(replace(t, joint=replace(t.joint, weld_width_mm=weld)) for t in demo_job.ties)
    shell = moved_along(hot_model(replace(demo_job, ties=ties)))
    bare, solid = moved_along(hot_model(demo_job)), liner_solid(demo_job, weld)
    for name, place in PLACES:
        seen = float(solid.at(*place)[0])
        print(f"{name}, welds {weld} mm: shell {shell[name]:.4f}, solid {seen:.4f}, tie without width {bare[name]:.4f}")
        assert shell[name] == pytest.approx(seen, abs=5e-4)
    assert abs(bare["aft lip"] - float(solid.at(152.0, 95.0)[0])) > 4e-3


@pytest.mark.soak
def test_the_solid_itself_is_converged(demo_job: HotJob) -> None:
    """Ten times the unknowns move ports and lip by 0.3 um at most."""
    for weld in (0.6, 1.0, 1.6):
        coarse, fine = liner_solid(demo_job, weld), liner_solid(demo_job, weld, 0.4, 0.1, 6.0, 4)
        for name, place in PLACES:
            print(f"{name}, welds {weld} mm: {coarse.at(*place)[0]:.4f}, {fine.at(*place)[0]:.4f}")
            assert float(coarse.at(*place)[0]) == pytest.approx(float(fine.at(*place)[0]), abs=3e-4)


@pytest.mark.parametrize("weld", [None, 0.6, 1.6])
def test_whole_liner_stress(demo_job: HotJob, weld: float | None) -> None:
    """Bar: stress off the welds within 3 %. Reached: 2 %."""
    ties = tuple(replace(t, joint=replace(t.joint, weld_width_mm=weld)) for t in demo_job.ties)
    job = replace(demo_job, ties=ties)
    narrow, model = liner_solid(job, weld or 0.6), hot_model(job)
    told = plan_constraint(model)
    middle = narrow.solid.points[narrow.solid.quads].mean(axis=1)
    clear = np.ones(middle.shape[0], dtype=bool)
    for tie in job.ties:
        z, r = job.parts[tie.outer].section.point_at(tie.outer_s_mm)
        clear &= np.hypot(middle[:, 0] - z, middle[:, 1] - r) > OFF_WELD_MM
    peak = 0.0
    for k in range(len(job.parts)):
        off = np.all(np.abs(told.places[k][:, None] - np.array(welds_of(job, k))[None, :]) > OFF_WELD_MM, axis=1)
        peak = max(peak, float(told.mises[k][off].max()))
    print(
        f"largest von Mises further than {OFF_WELD_MM} mm from welds: shell {peak:.1f}, solid "
        f"{narrow.mises[clear].max():.1f} MPa"
    )
    assert peak == pytest.approx(float(narrow.mises[clear].max()), rel=0.03)
