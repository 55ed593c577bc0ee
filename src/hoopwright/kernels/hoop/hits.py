"""A hoop through its hits: the one call of this kernel. mm, N, MPa, rad."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hoopwright.errors import InputError, NotConverged
from hoopwright.kernels.flow import instability_strain
from hoopwright.kernels.hoop.build import build, material_angles
from hoopwright.kernels.hoop.inputs import Fineness, Hit, HoopSection, InitialShape, SegmentTool, Weld
from hoopwright.kernels.hoop.ledger import girth, soften
from hoopwright.kernels.hoop.measure import Bench, fibre_means, ring_state
from hoopwright.kernels.hoop.refusals import refuse_hits, refuse_hoop, refuse_weld
from hoopwright.kernels.hoop.result import HitResult, HoopResult, WorkBalance
from hoopwright.kernels.hoop.segments import history, segment_load
from hoopwright.kernels.hoop.stretch import first_touch, free_settle, load, release
from hoopwright.kernels.hoop.symmetry import Part, find_part
from hoopwright.kernels.hoop.unfold import unfold
from hoopwright.kernels.hoop.walk import STIFF, Walk, scales_of, tool_figures

WHOLE = Part("full", 0.0, 2.0 * math.pi, 1)


def slot_gap(tool: SegmentTool, position: float) -> float:
    """Width of the slots with the segment middles at a radius; below 0 the segments would overlap. [mm]"""
    return tool.slot_mm + 2.0 * (position - tool.turned_radius_mm) * math.sin(math.pi / tool.count)


def one_hit(bench: Bench, walk: Walk, tool: SegmentTool, hit: Hit, field: str, steps: int) -> HitResult:
    """Run one hit on the hoop as it stands, and measure it. field : the hit's name in a refusal."""
    walk.figures = tool_figures(tool, hit.index_rad - bench.part.turn_rad)
    walk.start_anew()
    if hit.anneal_before:
        soften(walk.state)
    touch = first_touch(walk)
    if touch >= hit.position_mm:
        raise InputError(
            f"{field}.position", hit.position_mm, "mm", f"above {touch:.4f}, where the segments first touch",
            "go to a larger radius or leave this hit out",
        )  # fmt: skip
    try:
        track = load(walk, touch, hit.position_mm, steps)
    except NotConverged as stop:
        raise NotConverged(f"{field}: {stop}", stop.last_state) from stop
    walk.note_imbalance(walk.tool(hit.position_mm, STIFF))
    told = history(bench, track, hit.index_rad)
    loaded = ring_state(bench, walk.state, hit.index_rad)
    carried = segment_load(bench, walk, hit.index_rad, loaded)
    work = WorkBalance(*(float(w) * bench.part.images for w in walk.ledger))
    release(walk)
    walk.note_imbalance(walk.tool(hit.position_mm, 0.0))
    after = fibre_means(bench.chain, walk.state)
    return HitResult(
        position_mm=hit.position_mm,
        index_rad=hit.index_rad,
        standing_offset_mm=hit.position_mm - tool.turned_radius_mm,
        touch_position_mm=touch,
        slot_gap_mm=slot_gap(tool, hit.position_mm),
        slot_gap_at_touch_mm=slot_gap(tool, touch),
        loaded=loaded,
        free=ring_state(bench, walk.state, hit.index_rad),
        segments=carried,
        history=told,
        work=work,
        state_after=after[0],
        weld_state_after=after[1] if weld_is_there(bench) else None,
    )


def weld_is_there(bench: Bench) -> bool:
    """Whether the part holds a weld."""
    return bool(np.any(bench.chain.zone == 1))


def size_hoop(
    section: HoopSection,
    shape: InitialShape,
    tool: SegmentTool,
    hits: Sequence[Hit],
    weld: Weld | None = None,
    fineness: Fineness | None = None,
) -> HoopResult:
    """Stretch a welded hoop on segments, hit by hit, and release it after each.

    Parameters
    ----------
    section : fibres, metal and what earlier steps left in them.
    shape : girth and out-of-round of the incoming hoop.
    tool : the segments. hits : where they are driven, in order, at least one.
    weld : zone of another metal; None for none. fineness : None for what suits the input.

    Returns
    -------
    HoopResult
        Loaded and free state of every hit; the mirror symmetry of the input is used and mirrored out again.

    Raises
    ------
    InputError
        For what cannot be: a first hit that does not stretch, a later one that does not touch, slots that close, a weld
        wider than a segment, a hit beyond the flow curve.
    NotConverged
        When no equilibrium is found; `last_state` is the chain's last state.

    Notes
    -----
    Plane chain, uniaxial fibres, rigid segments, Coulomb friction: docs/theory/hoop.md gives equations and limits.

    Examples
    --------
    >>> from hoopwright.kernels.flow import swift
    >>> from hoopwright.kernels.hoop.inputs import flat_section
    >>> from hoopwright.kernels.metal import Metal
    >>> strip = flat_section(1.2, 40.0, Metal(swift(1400.0, 0.012, 0.35), 205000.0, 0.3))
    >>> segments = SegmentTool(8, 137.17355, 1.0, 0.5, 0.15)
    >>> sized = size_hoop(strip, InitialShape(137.0), segments, [Hit(139.17355)])
    >>> sized.symmetry, f"{sized.free.mean_diameter_mm:.3f}", f"{sized.free.lobe_mm:.3f}"
    ('half pitch', '278.877', '0.062')
    """
    fineness = fineness or Fineness()
    refuse_hoop(section, shape, weld)
    refuse_hits(section, shape, tool, hits)
    if weld is not None:
        refuse_weld(weld, tool, shape)
    part = find_part(tool, shape, weld, hits) if fineness.symmetry else WHOLE
    angles = material_angles(section, tool, shape, weld, hits, part, fineness)
    chain, state = build(section, shape, weld, part, angles)
    scales = scales_of(chain, section, part.kind in ("full", "half"))
    necks = tuple(instability_strain(m.flow) for m in [section.metal] + ([weld.metal] if weld is not None else []))
    walk = Walk(chain, scales, state, tool_figures(tool, hits[0].index_rad - part.turn_rad), tool.errors(), necks)
    bench = Bench(chain, section, part, unfold(part, angles), girth(chain, state.x), tool.count)
    let_go(walk, section, weld)
    incoming = ring_state(bench, walk.state, hits[0].index_rad)
    done = tuple(one_hit(bench, walk, tool, hit, f"hits[{i}]", fineness.steps) for i, hit in enumerate(hits))
    tension = min(hit.gap_tension_N for hit in done)
    return HoopResult(
        hits=done,
        incoming=incoming,
        symmetry=part.kind,
        nodes=angles.size,
        converged=True,
        iterations=walk.iterations,
        steps=walk.steps,
        message=f"equilibrium at each of {walk.steps} steps; {walk.halvings} longer ones were tried in vain",
        residual_N=walk.residual,
        residual_share=walk.residual / tension,
        residual_floor_N=scales.floor,
    )


def let_go(walk: Walk, section: HoopSection, weld: Weld | None) -> None:
    """Let a residual stress that does not balance round the hoop change its shape before the first hit."""
    if section.state is not None or (weld is not None and weld.state is not None):
        free_settle(walk)
