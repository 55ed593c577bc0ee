"""The whole liner in section: the map of every page, and the picture `check` draws. Units mm; x = z, y = r."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from hoopwright.design.shapes import EndPlate, HolePattern, Liner, Ring
from hoopwright.kernels.profile import Profile, line
from hoopwright.kernels.profile_crossing import levels_at
from hoopwright.papers.drawing.items import Dot, Drawing, Group, Item, LinearDimension, Mark, Path, Text
from hoopwright.papers.pictures.sheet_metal import Firmness, cut_sheet


def liner_map(
    liner: Liner,
    firmness: Mapping[str, Firmness] | None = None,
    marks: Sequence[Mark] = (),
    links: Mapping[str, str] | None = None,
    lettering: bool = True,
) -> Drawing:
    """Every part in section about the engine axis, upper half only, to scale.

    Parameters
    ----------
    firmness : how far each part has come; a part not named is drawn in outline. marks : findings, where they are.
    links : addresses of the parts, for a page.
    """
    stages, addresses = firmness or {}, links or {}
    items: list[Item] = []
    if liner.end_plate is not None:
        items.append(_plate(liner, liner.end_plate, stages, addresses))
    items += [_ring(liner, ring, stages, addresses) for ring in liner.rings]
    for joint in liner.joints:
        r = _joint_radius(liner, joint.inner, joint.weld_z_mm)
        if r is not None:
            items.append(Dot((joint.weld_z_mm, r), 0.5))
    if lettering:
        items += [_ring_name(ring) for ring in liner.rings]
        items += _frame(liner)
    words = f"{liner.id} revision {liner.revision}: {len(liner.rings)} rings" + (
        " and the end plate" if liner.end_plate is not None else ""
    )
    return Drawing((*items, *marks), f"section of {liner.id}", words)


def _linked(items: tuple[Item, ...], name: str, addresses: Mapping[str, str]) -> Group:
    return Group(items, name, addresses.get(name, ""))


def _ring(liner: Liner, ring: Ring, stages: Mapping[str, Firmness], addresses: Mapping[str, str]) -> Group:
    items = cut_sheet(ring.section, ring.thickness_mm, stages.get(ring.id, "outline"))
    if ring.id in addresses:
        # a sheet is too thin to be hit with a finger: the link reaches about it
        items = (*items, Path(ring.section.segments, "touch"))
    # in a link the holes have no words of their own: its name is the ring's number and nothing else
    holes = [_hole(ring.section, pattern, ring.id not in addresses) for pattern in liner.holes_of(ring.id)]
    return _linked((*items, *(h for h in holes if h is not None)), ring.id, addresses)


def _hole(section: Profile, pattern: HolePattern, named: bool = True) -> Item | None:
    levels = levels_at(section, pattern.z_mm)
    if not levels:
        return None
    z, r = pattern.z_mm, levels[0]
    return Path((line((z, r - 2.5), (z, r + 2.5)),), "centre", title=f"{pattern.kind} holes" if named else "")


def _plate(liner: Liner, plate: EndPlate, stages: Mapping[str, Firmness], addresses: Mapping[str, str]) -> Group:
    return _linked(cut_sheet(plate.section, plate.thickness_mm, stages.get(plate.id, "outline")), plate.id, addresses)


def _joint_radius(liner: Liner, ring_id: str, z: float) -> float | None:
    """Outside face of the inner part of a lap at its weld."""
    for ring in liner.rings:
        if ring.id == ring_id:
            levels = levels_at(ring.section, z)
            return levels[0] + 0.5 * ring.thickness_mm if levels else None
    return None


NAME_HALF_MM = 8.0
"""Half the width of a ring's number, in mm of the liner at full size; at other scales it is a fair guess."""


def _ring_name(ring: Ring) -> Text:
    """The ring's number, clear of its section on the side outside its shell."""
    z = 0.5 * (ring.section.bounds[0] + ring.section.bounds[2])
    near = [
        r for place in np.linspace(z - NAME_HALF_MM, z + NAME_HALF_MM, 9) for r in levels_at(ring.section, float(place))
    ] or [ring.section.bounds[3]]
    if ring.side == "outer":
        return Text((z, max(near)), ring.id, 2.95, "figures-bold", "middle", (0.0, 2.4))
    return Text((z, min(near)), ring.id, 2.95, "figures-bold", "middle", (0.0, -4.4))


def _frame(liner: Liner) -> list[Item]:
    """Length over all, and which way is aft."""
    least = min(ring.section.bounds[1] for ring in liner.rings)
    z0 = min([ring.section.bounds[0] for ring in liner.rings] + ([0.0] if liner.end_plate else []))
    z1 = max(ring.section.bounds[2] for ring in liner.rings)
    return [
        LinearDimension((z0, least), (z1, least), -14.0, 2, "x"),
        Text((z0, least), "forward", 2.95, "italic", "end", (-1.5, -15.0)),
        Text((z1, least), "aft", 2.95, "italic", "start", (1.5, -15.0)),
    ]
