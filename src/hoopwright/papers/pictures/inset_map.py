"""The liner's section as a small map: parts in question drawn thick, the others thin. mm; x = z, y = r."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from hoopwright.design.shapes import Liner
from hoopwright.papers.drawing.items import Drawing, Group, Item, Path


def inset_map(liner: Liner, on: Collection[str], links: Mapping[str, str]) -> Drawing:
    """Mid-surfaces of all parts; the ones in question thick. links : addresses of parts."""
    items: list[Item] = []
    if liner.end_plate is not None:
        plate = liner.end_plate
        items.append(Path(plate.section.segments, "heavy" if plate.id in on else "other-part", title=plate.id))
    for ring in liner.rings:
        line = Path(ring.section.segments, "heavy" if ring.id in on else "other-part")
        reach = (Path(ring.section.segments, "touch"),) if ring.id in links else ()
        items.append(Group((line, *reach), ring.id, links.get(ring.id, "")))
    return Drawing(tuple(items), f"Map: section of {liner.id}; choose a part")
