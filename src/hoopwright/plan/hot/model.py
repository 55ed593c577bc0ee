"""The linear shell of the whole liner, and what each given temperature does to every node of it (influence rows)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError
from hoopwright.kernels.shell_links import AXIAL, RADIAL, TURN, Hold, Link
from hoopwright.kernels.shell_stack import ShellStack, shell_stack
from hoopwright.kernels.shell_stack_mesh import Strand, strand
from hoopwright.kernels.thermal_graph import DATUM, MotionGraph
from hoopwright.plan.hot.job import HotJob, Place, Tie

Vector = NDArray[np.float64]

LOCKS = {"welded": (RADIAL, AXIAL, TURN), "slides-radially": (AXIAL,), "resting": (AXIAL,), "slides-axially": ()}


@dataclass(frozen=True, slots=True, eq=False)
class HotModel:
    """Shell with one column a given temperature (m of them, all parts in order).

    shape : strain of each node from the strains of the given places, (N, m). rows : displacement of each node by unit
    strain of each place, (N, 3, m). strain : of each place, steady, (m,). columns : first column of each part.
    """

    job: HotJob
    stack: ShellStack
    links: tuple[Link, ...]
    shape: Vector
    rows: Vector
    strain: Vector
    columns: tuple[int, ...]

    def node(self, part: int, s_mm: float) -> int:
        """Node of a part nearest to a distance along its section."""
        return self.stack.node(part, s_mm)

    def end(self, part: int, last: bool = True) -> int:
        """First or last node of a part."""
        return int(self.stack.offsets[part]) + (self.stack.strands[part].nodes - 1 if last else 0)

    def moved(self, strain: Vector | None = None) -> Vector:
        """Displacements of all nodes, (N, 3) or (N, 3, q), for strains of the places (m,) or (m, q)."""
        given = self.strain if strain is None else strain
        return np.asarray(self.rows @ given)

    def place_of(self, node: int) -> tuple[float, float]:
        """Cold z and r of a node. [mm]"""
        part = int(np.searchsorted(self.stack.offsets, node, side="right") - 1)
        k = node - int(self.stack.offsets[part])
        return float(self.stack.strands[part].z[k]), float(self.stack.strands[part].r[k])


def require_hung(job: HotJob) -> None:
    """Refuse a liner of which parts hang on nothing.

    Raises
    ------
    InputError
        Names the loose parts, and the joint that would hold them or the datum nothing hangs on.
    """
    graph = MotionGraph()
    datum = job.parts[job.datum[0]].id
    for part in job.parts:
        graph.add(part.id)
    graph.link("datum", datum, DATUM, 0.0)
    for tie in job.ties:
        if LOCKS[tie.joint.hold or "welded"]:
            graph.link(tie.joint.id, tie.joint.outer, tie.joint.inner, 0.0)
    loose = [name for group in graph.loose() for name in group]
    if not loose:
        return
    if len(loose) == len(job.parts) - 1:
        raise InputError(
            "axial datum",
            datum,
            "",
            "a part that others hang on: nothing hangs on it",
            "join it to its neighbour, or name another thermal.datum_part",
        )
    sliding = [t.joint.id for t in job.ties if (t.joint.outer in loose) != (t.joint.inner in loose)]
    remedy = f"weld {' or '.join(sliding)}" if sliding else f"add a joint between {loose[0]} and what the datum holds"
    raise InputError("parts", ", ".join(loose), "", "held along the axis: nothing does", remedy)


def held_twice(job: HotJob) -> tuple[tuple[str, tuple[str, ...], float], ...]:
    """Joints that close a loop: (joint, joints of the loop, closure in mm by the chain of lengths, steady)."""
    graph = MotionGraph()
    graph.link("datum", job.parts[job.datum[0]].id, DATUM, 0.0)
    for tie in job.ties:
        if LOCKS[tie.joint.hold or "welded"]:
            z = tie.joint.weld_z_mm
            shift = [
                float(np.mean([job.parts[k].strain.at(p.metal_degC) for p in job.parts[k].places])) * z
                for k in (tie.inner, tie.outer)
            ]
            graph.link(tie.joint.id, tie.joint.outer, tie.joint.inner, shift[0] - shift[1])
    return tuple((c.name, c.path, float(c.miss)) for c in graph.closures)


def hot_model(job: HotJob, extra_holds: tuple[Hold, ...] = (), strands: tuple[Strand, ...] | None = None) -> HotModel:
    """Mesh, tie, factor and solve once for every given temperature.

    Parameters
    ----------
    extra_holds : besides the axial datum. strands : meridians to use instead of the sections' own (hot to cold).

    Raises
    ------
    InputError
        Parts that hang on nothing; see also `shell_stack`.
    """
    require_hung(job)
    used = strands if strands is not None else meshed(job)
    links = tuple(_links(job, used))
    young = [_young(job, k, used[k]) for k in range(len(used))]
    poisson = job.parts[0].alloy.poisson().value
    part, s = job.datum
    stack = shell_stack(used, young, poisson, links, (Hold((part, used[part].node_at(s)), AXIAL), *extra_holds))
    shape, columns = _shape(job, used)
    rows = stack.displaced(shape, holds=0.0)
    strain = np.array([float(p.strain.at(place.metal_degC)) for p in job.parts for place in p.places])
    return HotModel(job, stack, links, shape, rows, strain, columns)


def meshed(job: HotJob) -> tuple[Strand, ...]:
    """Meridians of all parts, nodes at joints, given places, port circle and control sizes."""
    found = []
    for k, part in enumerate(job.parts):
        marks = [t.outer_s_mm for t in job.ties if t.outer == k] + [t.inner_s_mm for t in job.ties if t.inner == k]
        if len(part.places) > 1:
            marks += [p.s_mm for p in part.places]
        if k == job.plate and job.liner.port_pitch_radius_mm > 0.0:
            marks.append(port_place(job))
        if k == job.datum[0]:
            marks.append(job.datum[1])
        found.append(strand(part.section, part.thickness_mm, tuple(marks)))
    return tuple(found)


def port_place(job: HotJob) -> float:
    """Distance along the end plate's section to the port circle. [mm]"""
    from hoopwright.plan.hot.job import place_on

    assert job.plate is not None
    return place_on(job.parts[job.plate].section, (0.0, job.liner.port_pitch_radius_mm))[0]


def _links(job: HotJob, strands: tuple[Strand, ...]) -> list[Link]:
    found = []
    for tie in job.ties:
        lock = LOCKS[tie.joint.hold or "welded"]
        if lock:
            leader = (tie.inner, strands[tie.inner].node_at(tie.inner_s_mm))
            follower = (tie.outer, strands[tie.outer].node_at(tie.outer_s_mm))
            width = tie.joint.weld_width_mm if TURN in lock else None
            found.append(Link(leader, follower, lock, _fitting(tie, leader, follower, strands, width)))
    return found


def _fitting(
    tie: Tie, leader: tuple[int, int], follower: tuple[int, int], strands: tuple[Strand, ...], width: float | None
) -> float | None:
    """The width of a weld, where both sheets reach beyond it.

    Raises
    ------
    InputError
        A weld wider than the lap.
    """
    if width is None:
        return None
    ends = [float(e) for at in (leader, follower) for e in _reach(strands[at[0]], at[1])]
    room = 2.0 * min(ends)
    if width >= room:
        raise InputError(
            f"joint {tie.joint.id}, weld_width_mm",
            width,
            "mm",
            f"under {room:.2f}, twice the way from the weld to the nearer edge",
            "correct the width, or weld_z_mm",
        )
    return width


def _reach(meridian: Strand, node: int) -> tuple[float, float]:
    at = float(meridian.s[node])
    return at - float(meridian.s[0]), float(meridian.s[-1]) - at


def _young(job: HotJob, part: int, meridian: Strand) -> Vector:
    places = job.parts[part].places
    middle = 0.5 * (meridian.s[1:] + meridian.s[:-1])
    warm = np.interp(middle, [p.s_mm for p in places], [p.metal_degC for p in places])
    known: dict[float, float] = {}
    for degC in np.unique(warm):
        known[float(degC)] = job.parts[part].alloy.young_modulus_MPa(float(degC)).value
    return np.array([known[float(degC)] for degC in warm])


def hats(s: Vector, places: tuple[Place, ...]) -> Vector:
    """Share of each place in the strain at distances s, (n, p): straight between places, level beyond the last."""
    if len(places) == 1:
        return np.ones((s.size, 1))
    at = np.array([p.s_mm for p in places])
    return np.stack([np.interp(s, at, np.eye(at.size)[k]) for k in range(at.size)], axis=1)


def _shape(job: HotJob, strands: tuple[Strand, ...]) -> tuple[Vector, tuple[int, ...]]:
    counts = [len(p.places) for p in job.parts]
    columns = tuple(int(c) for c in np.concatenate(([0], np.cumsum(counts)[:-1])))
    whole = np.zeros((sum(s.nodes for s in strands), sum(counts)))
    begin = 0
    for part, meridian, column in zip(job.parts, strands, columns, strict=True):
        whole[begin : begin + meridian.nodes, column : column + len(part.places)] = hats(meridian.s, part.places)
        begin += meridian.nodes
    return whole, columns
