"""Removing metal: elements go with their stress, and what is left springs. Units mm."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from hoopwright.errors import InputError, require_finite
from hoopwright.kernels.section.section import Section


def kept(section: Section, first: int, last: int) -> Section:
    """The part of a section between two of its nodes, both kept, with everything it remembers.

    It is not in balance before it is released. Raises InputError when the nodes are not in order.
    """
    nodes = section.x_mm.shape[0]
    first, last = first + nodes if first < 0 else first, last + nodes if last < 0 else last
    if not 0 <= first < last < nodes:
        raise InputError(
            "cut", (first, last), "", f"two nodes in order from 0 to {nodes - 1}", "choose the nodes to keep"
        )
    n, e = slice(first, last + 1), slice(first, last)
    return replace(
        section,
        x_mm=section.x_mm[n].copy(),
        y_mm=section.y_mm[n].copy(),
        angle_rad=section.angle_rad[n].copy(),
        thickness_mm=section.thickness_mm[e].copy(),
        weight_mm3=section.weight_mm3[e].copy(),
        layers=section.layers[e].copy(),
        shear_offset_rad=section.shear_offset_rad[e].copy(),
        length_start_mm=section.length_start_mm[e].copy(),
        fibre_start=section.fibre_start[e].copy(),
        thickness_start_mm=section.thickness_start_mm[e].copy(),
    )


def node_near(section: Section, arc_mm: float) -> tuple[int, float]:
    """Node nearest to a distance along the section, and the distance it really lies at. [mm]

    Mesh with `nodes_at_mm` where the cut has to be exact.
    """
    require_finite("arc_mm", arc_mm, "mm")
    along = section.arc_mm()
    if not 0.0 <= arc_mm <= along[-1]:
        raise InputError("arc_mm", arc_mm, "mm", f"from 0 to {along[-1]:.3f}", "give a place on the section")
    node = int(np.argmin(np.abs(along - arc_mm)))
    return node, float(along[node])
