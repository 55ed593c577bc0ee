"""Welds of stated width: rigid motion, uniform strain, reversal, equilibrium, refusals; the element against a tube."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.sparse.linalg import spsolve

from hoopwright.errors import InputError
from hoopwright.kernels.profile import Profile, line
from hoopwright.kernels.shell_links import AXIAL, Hold, Link
from hoopwright.kernels.shell_stack import ShellStack, shell_stack
from hoopwright.kernels.shell_stack_mesh import Strand, strand
from hoopwright.kernels.shell_stack_stress import stack_stress
from hoopwright.kernels.shell_weld_solid import stretch_of, weld_cell
from hoopwright.kernels.solid_rings import grid_elements, section_weights, solid_matrices

R, T, E, NU = 120.0, 0.8, 160e3, 0.32


def strands(offset: float = 0.85, slope: float = 0.0, back: bool = False) -> tuple[Strand, Strand]:
    first = Profile((line((0.0, R), (30.0, R + slope * 30.0)),))
    second = Profile((line((20.0, R + offset + slope * 20.0), (60.0, R + offset + slope * 60.0)),))
    inner = strand(first, T, (25.0 * float(np.hypot(1.0, slope)),))
    along = 5.0 * float(np.hypot(1.0, slope))
    outer = strand(second.reversed() if back else second, T, (second.length - along if back else along,))
    return inner, outer


def welded(width: float | None, offset: float = 0.85, slope: float = 0.0, back: bool = False) -> ShellStack:
    inner, outer = strands(offset, slope, back)
    at = int(np.argmin(np.abs(outer.z - 25.0)))
    link = Link((0, int(np.argmin(np.abs(inner.z - 25.0)))), (1, at), width=width)
    return shell_stack((inner, outer), (E, E), NU, (link,), (Hold((0, 0), AXIAL),))


@given(st.floats(0.81, 1.2), st.floats(-0.3, 0.3), st.floats(1e-4, 2e-2), st.floats(0.3, 1.8))
def test_uniform_strain_is_free_of_stress(offset: float, slope: float, strain: float, width: float) -> None:
    shell = welded(width, offset, slope)
    e = np.full(shell.nodes, strain)
    moved = shell.displaced(e)
    z = np.concatenate([s.z for s in shell.strands])
    assert moved[:, 1] == pytest.approx(strain * (z - z[0]), abs=1e-9 + 1e-6 * strain)
    assert max(float(s.mises.max()) for s in stack_stress(shell, moved, e)) < 1e-3


def test_direction_of_travel_does_not_matter() -> None:
    found = []
    for back in (False, True):
        shell = welded(0.8, back=back)
        e = np.where(np.arange(shell.nodes) < shell.strands[0].nodes, 0.0, 1e-3)
        moved = shell.displaced(e)
        far = int(shell.offsets[1]) + (0 if back else shell.strands[1].nodes - 1)
        found.append(moved[far, :2])
    assert found[0] == pytest.approx(found[1], abs=1e-9)


def test_cell_is_in_equilibrium() -> None:
    """Symmetric, no force from a shift along the axis, never negative work."""
    inner, outer = strands()
    pair = [stretch_of(s, int(np.argmin(np.abs(s.z - 25.0))), E, ()) for s in (inner, outer)]
    cell = weld_cell(pair[0], pair[1], 0.8, NU)
    size = float(np.abs(cell.stiffness).max())
    assert cell.stiffness == pytest.approx(cell.stiffness.T, abs=1e-9 * size)
    shift = np.tile([0.0, 1.0, 0.0], cell.stiffness.shape[0] // 3)
    assert np.abs(cell.stiffness @ shift).max() < 1e-7 * size
    assert np.linalg.eigvalsh(cell.stiffness).min() > -1e-9 * size


def stepped(shell: ShellStack) -> np.ndarray:
    """Movement with the second strand hotter by 1e-3 of strain."""
    return shell.displaced(np.where(np.arange(shell.nodes) < shell.strands[0].nodes, 0.0, 1e-3))


def test_a_narrow_weld_is_nearly_a_tie_and_a_wide_one_clamps() -> None:
    """Movement of the far end along the axis: within 0.1 % of the tie for 0.2 mm, less and less with the width."""
    ends = [float(stepped(welded(width))[-1, 1]) for width in (0.2, 0.4, 0.8, 1.6)]
    assert ends[0] == pytest.approx(float(stepped(welded(None))[-1, 1]), rel=1e-3)
    assert ends == sorted(ends, reverse=True)
    assert ends[3] < 0.996 * ends[0]


def test_sheets_that_touch_are_joined_all_the_same() -> None:
    close, apart = (stepped(welded(0.8, offset))[-1, 1] for offset in (0.8, 0.81))
    assert close == pytest.approx(apart, abs=2e-5)


def test_element_on_a_thick_tube() -> None:
    """Free strain that runs with the radius in a long tube, plane strain: Lame's answer by quadrature (Timoshenko and
    Goodier, Theory of Elasticity, thermal stress in a long cylinder, from memory)."""
    a, b, nu = 20.0, 30.0, 0.3
    errors = []
    for count in (2, 4, 8):
        r1 = np.linspace(a, b, 2 * count + 1)
        r, z = np.repeat(r1, 3), np.tile([0.0, 0.5, 1.0], r1.size)
        elements = grid_elements(np.arange(r.size).reshape(r1.size, 3))
        stiffness, unit = solid_matrices(r, z, elements, np.full(count, E), nu)
        middle = r[elements[:, 4]]
        load = unit @ (1e-4 * (middle - a))
        free = 2 * np.arange(r.size)
        u = spsolve(stiffness[free][:, free].tocsc(), load[free])
        whole = np.trapezoid(1e-4 * (np.linspace(a, b, 4001) - a) * np.linspace(a, b, 4001), np.linspace(a, b, 4001))
        # all axial movement is held: the free strain counts (1 + nu)
        wanted = 2.0 * (1.0 + nu) * whole * b / (b**2 - a**2)
        errors.append(abs(float(u[-1]) - wanted) / wanted)
    assert errors[2] < 0.3 * errors[1] < 0.3 * errors[0]
    assert errors[2] < 1e-3


def test_section_weights_are_integrals() -> None:
    across = np.linspace(-0.4, 0.4, 9)
    assert section_weights(across, 0).sum() == pytest.approx(0.8)
    assert section_weights(across, 1) @ across == pytest.approx(0.8**3 / 12.0)
    assert section_weights(across, 2) @ across**2 == pytest.approx(0.8**5 / 80.0, rel=0.01)


@pytest.mark.parametrize(
    ("width", "offset"), [(0.0, 0.85), (-1.0, 0.85), (float("nan"), 0.85), (9.0, 0.85), (0.8, 0.3)]
)
def test_refusals(width: float, offset: float) -> None:
    with pytest.raises(InputError):
        welded(width, offset)
