"""Letting go: ramps that fade what holds the sheet. Units mm, N, MPa, rad.

At equilibrium the inner forces equal all that acts from outside, so freezing them as nodal loads and fading them is the
same as freezing every contact force and reaction. A curled strip that is let go all at once can end on another branch;
there the moment fades first with the tools shut, then the contact.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from hoopwright.kernels.section.assemble import inner_forces
from hoopwright.kernels.section.plan import contact_ends, globals_of, held, rigid_supports, tool_numbers
from hoopwright.kernels.section.ramp import Ramp, constant
from hoopwright.kernels.section.schedule import FREE, Drift, Release, Support
from hoopwright.kernels.section.section import Section
from hoopwright.kernels.section.shapes import Flags
from hoopwright.kernels.section.stepping import Walk
from hoopwright.kernels.section.tool import Contact, Tool


def _drifts(section: Section, kept: Sequence[str]) -> tuple[Drift | None, Drift | None, Drift | None]:
    """Free what a strip does not keep; nothing to free in revolution."""
    if section.mode == "revolution":
        return None, None, None
    stretch, curl, camber = (None if name in kept else FREE for name in ("stretch", "curl", "camber"))
    return stretch, curl, camber


def _bare_ramp(
    section: Section, walk: Walk, name: str, fixed: Flags, drifts: tuple[Drift | None, ...], increments: int
) -> Ramp:
    """A ramp without tools or loads, held as given, from the walk's state to nothing."""
    free, target, pull = globals_of(section, walk, (drifts[0], drifts[1], drifts[2]))
    none = np.zeros(walk.sheet.q.size)
    return Ramp(
        name,
        fixed,
        constant(walk.sheet.q),
        free,
        target,
        pull,
        constant(none),
        none,
        (0.0, 0.0),
        0.0,
        -1,
        (0.0, 0.0),
        0.0,
        np.zeros(section.elements),
        0.0,
        np.zeros(0, dtype=np.int64),
        np.zeros((0, 2)),
        np.zeros((0, 2)),
        np.zeros((0, 2)),
        np.zeros((0, 2)),
        -1,
        np.zeros(2),
        increments,
    )


def moment_ramp(
    section: Section,
    walk: Walk,
    tools: Sequence[Tool],
    shut: Mapping[str, tuple[float, float]],
    release: Release,
    supports: Sequence[Support],
    contact: Contact,
) -> Ramp | None:
    """First phase for a strip: stretch force and curl moment fade with the tools shut. None where both are nothing."""
    if section.mode == "revolution" or not shut:
        return None
    thick = float(section.thickness_start_mm.mean())
    small = 1e-4 * float(walk.metal[0]) * thick**3 / max(float(section.arc_mm()[-1]), 1.0)
    drifts = _drifts(section, (*release.held, "camber"))
    loaded = [drift is not None and abs(float(walk.resultant[k])) >= small for k, drift in enumerate(drifts)]
    if not any(loaded):
        return None
    fixed, _ = held(section, walk, supports)
    ramp = _bare_ramp(section, walk, release.name, fixed, drifts, release.increments)
    ramp.active, ramp.travel = tool_numbers(tools, {name: (0.0, 0.0) for name in shut})
    ramp.place = walk.place[ramp.active]
    ramp.stiffness, ramp.blend = contact_ends(tools, ramp.active, float(walk.metal[0]), thick, contact, contact)
    return ramp


def fading_ramp(section: Section, walk: Walk, release: Release) -> Ramp:
    """Contact forces and reactions, frozen as nodal loads, fade; only rigid motion is held."""
    drifts = _drifts(section, release.held)
    free, _, _ = globals_of(section, walk, drifts)
    given = release.supports
    supports = rigid_supports(section, free, float(walk.sheet.g[1])) if given is None else given
    fixed, _ = held(section, walk, supports)
    ramp = _bare_ramp(section, walk, release.name, fixed, drifts, release.increments)
    ramp.dead[0] = inner_forces(walk.sheet, walk.metal, walk.law)
    # from here on these loads are what does the outer work
    walk.outer[:] = ramp.dead[0]
    return ramp


def retracting_ramp(section: Section, walk: Walk, tools: Sequence[Tool], release: Release, contact: Contact) -> Ramp:
    """The tools are led away with contact alive."""
    assert release.retract is not None
    supports = release.supports
    drifts = _drifts(section, release.held)
    free, _, _ = globals_of(section, walk, drifts)
    chosen = rigid_supports(section, free, float(walk.sheet.g[1])) if supports is None else supports
    fixed, _ = held(section, walk, chosen)
    ramp = _bare_ramp(section, walk, release.name, fixed, drifts, max(release.increments, 20))
    thick = float(section.thickness_start_mm.mean())
    ramp.active, ramp.travel = tool_numbers(tools, release.retract)
    ramp.place = walk.place[ramp.active]
    ramp.stiffness, ramp.blend = contact_ends(tools, ramp.active, float(walk.metal[0]), thick, contact, contact)
    return ramp
