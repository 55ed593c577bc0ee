"""Triangles of a flat rim with fingers pointing inward, one half pitch or the whole turn. mm, rad."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import InputError

Vector = NDArray[np.float64]
Whole = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class RimShape:
    """A rim between two radii; equal fingers at angles, equal legs at angles on its outer edge. mm, rad."""

    inner: float
    outer: float
    finger_width: float
    finger_length: float
    fingers: tuple[float, ...]
    legs: tuple[float, ...]
    leg_width: float


@dataclass(frozen=True, slots=True, eq=False)
class RimMesh:
    """points : (n, 2). triangles : (m, 3). tip : nodes on the contact line of finger `loaded`, and lines of the others.
    leg_edges : pairs of nodes on the outer edge that stand on legs. mirror_edges : pairs on planes of symmetry.
    share : how often the mesh is contained in the whole plate, per finger loaded (2 for a half pitch)."""

    points: Vector
    triangles: Whole
    tips: tuple[Whole, ...]
    leg_edges: Whole
    mirror_edges: Whole
    share: float


def rim_mesh(shape: RimShape, per_half_width: int = 8) -> RimMesh:
    """Mesh of a half pitch where fingers and legs allow it, else of the whole plate.

    Parameters
    ----------
    per_half_width : cells across half a finger; everything else follows this size.

    Raises
    ------
    InputError
        Fingers or legs that overlap, or a finger too long for the rim.
    """
    pitch = 2.0 * np.pi / len(shape.fingers)
    mirrored = _even(shape.fingers) and _even(shape.legs) and len(shape.legs) == len(shape.fingers)
    lead = (shape.legs[0] - shape.fingers[0]) % pitch if mirrored else 0.0
    between, behind = abs(lead - 0.5 * pitch) < 1e-9, min(lead, pitch - lead) < 1e-9
    half = 0.5 * shape.finger_width
    root = float(np.arcsin(half / shape.inner))
    leg = float(np.arcsin(0.5 * shape.leg_width / shape.outer))
    size = half / per_half_width
    if mirrored and (between or behind):
        edges = [0.0, root, 0.5 * pitch - leg if between else leg, 0.5 * pitch]
        places = _grid(edges, size / shape.inner)
        fingers: tuple[tuple[float, float], ...] = ((0.0, root),)
        closed = False
        legs = [(0.5 * pitch - leg, 0.5 * pitch + leg)] if between else [(-leg, leg)]
    else:
        start = min(shape.fingers) - root
        fingers = tuple((f, root) for f in shape.fingers)
        begins = [(a - leg - start) % (2.0 * np.pi) + start for a in shape.legs]
        legs = [(b, b + 2.0 * leg) for b in begins]
        edges = [start, start + 2.0 * np.pi]
        edges += [e for f in shape.fingers for e in ((f - root), (f + root))]
        edges += [e for low, high in legs for e in (low, high)]
        edges = [(e - start) % (2.0 * np.pi) + start for e in edges[2:]] + edges[:2]
        places, closed = _grid(edges, 2.0 * size / shape.inner), True
    _require_room(shape, root, leg, pitch)
    return _built(shape, places, fingers, legs, size, closed)


def _require_room(shape: RimShape, root: float, leg: float, pitch: float) -> None:
    if 2.0 * root >= pitch or 2.0 * leg >= pitch:
        wide = f"{shape.finger_width:g}, {shape.leg_width:g}"
        raise InputError("fingers and legs", wide, "mm", "apart", "narrow them")
    if shape.inner - shape.finger_length <= 0.0:
        raise InputError("finger length", shape.finger_length, "mm", f"under {shape.inner:g}", "shorten the finger")


def _even(angles: tuple[float, ...]) -> bool:
    if len(angles) < 2:
        return False
    steps = np.diff(np.sort(np.asarray(angles) % (2.0 * np.pi)))
    return bool(np.allclose(steps, 2.0 * np.pi / len(angles), atol=1e-9))


def _grid(edges: list[float], step: float) -> Vector:
    fixed = np.unique(np.round(np.array(edges), 12))
    parts = [fixed[:1]]
    for low, high in pairwise(fixed):
        count = max(2, int(np.ceil((high - low) / step)))
        parts.append(low + (high - low) * np.arange(1, count + 1) / count)
    return np.concatenate(parts)


def _built(
    shape: RimShape, places: Vector, fingers: tuple[tuple[float, float], ...], legs: list[tuple[float, float]],
    size: float, closed: bool,
) -> RimMesh:  # fmt: skip
    step = 2.0 * size if closed else size
    across = np.linspace(shape.inner, shape.outer, max(3, int(np.ceil((shape.outer - shape.inner) / step))) + 1)
    turns = places[:-1] if closed else places
    points = [np.array([[p * np.cos(a), p * np.sin(a)] for a in turns for p in across])]
    rows = across.size
    number = np.arange(turns.size * rows).reshape(turns.size, rows)
    loop = np.concatenate((number, number[:1])) if closed else number
    triangles = [_quads(loop)]
    outer = loop[:, -1]
    middle = 0.5 * (places[1:] + places[:-1])
    stands = np.zeros(middle.size, dtype=bool)
    for low, high in legs:
        for turn in (-2.0 * np.pi, 0.0, 2.0 * np.pi):
            stands |= (middle > low + turn) & (middle < high + turn)
    leg_edges = np.stack((outer[:-1], outer[1:]), axis=1)[stands]
    count = number.size
    tips: list[Whole] = []
    mirror = [] if closed else [np.stack((number[k, :-1], number[k, 1:]), axis=1) for k in (0, -1)]
    along = max(6, int(np.ceil(shape.finger_length / step)))
    for axis, root in fingers:
        inside = (turns >= axis - root - 1e-9) & (turns <= axis + root + 1e-9)
        if closed:
            inside = np.abs((turns - axis + np.pi) % (2.0 * np.pi) - np.pi) <= root + 1e-9
        columns = np.flatnonzero(inside)
        lean = (turns[columns] - axis + np.pi) % (2.0 * np.pi) - np.pi
        columns, lean = columns[np.argsort(lean)], np.sort(lean)
        y, x1 = shape.inner * np.sin(lean), shape.inner * np.cos(lean)
        tip = shape.inner - shape.finger_length
        shares = np.linspace(0.0, 1.0, along + 1)[:-1]
        x = tip + (x1 - tip)[:, None] * shares[None, :]
        xy = np.stack((x, np.broadcast_to(y[:, None], x.shape)), axis=2)
        turned = np.stack((xy[..., 0] * np.cos(axis) - xy[..., 1] * np.sin(axis),
                           xy[..., 0] * np.sin(axis) + xy[..., 1] * np.cos(axis)), axis=2)  # fmt: skip
        own = count + np.arange(columns.size * along).reshape(columns.size, along)
        count += own.size
        points.append(turned.reshape(-1, 2))
        grid = np.concatenate((own, number[columns, 0][:, None]), axis=1)
        triangles.append(_quads(grid))
        tips.append(own[:, 0])
        if not closed:
            mirror.append(np.stack((grid[0, :-1], grid[0, 1:]), axis=1))
    mirror_edges = np.concatenate(mirror) if mirror else np.zeros((0, 2), dtype=np.int64)
    return RimMesh(
        np.concatenate(points), np.concatenate(triangles), tuple(tips), leg_edges, mirror_edges, 1.0 if closed else 2.0
    )


def _quads(grid: Whole) -> Whole:
    """Two triangles a cell, diagonals in turn."""
    a, b, c, d = grid[:-1, :-1], grid[1:, :-1], grid[1:, 1:], grid[:-1, 1:]
    odd = (np.indices(a.shape).sum(axis=0) % 2).astype(bool)
    one = np.where(odd[..., None], np.stack((a, b, c), -1), np.stack((a, b, d), -1))
    two = np.where(odd[..., None], np.stack((a, c, d), -1), np.stack((b, c, d), -1))
    return np.concatenate((one.reshape(-1, 3), two.reshape(-1, 3)))
