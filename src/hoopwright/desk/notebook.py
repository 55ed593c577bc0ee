"""Results that show themselves in a notebook: a ring after its last hit with its wash, and the liner's section."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from hoopwright.design.demo import demo_liner
from hoopwright.design.liner_reading import cards_folder, read_liner
from hoopwright.design.shapes import Liner
from hoopwright.papers.drawing.items import Drawing, Placed
from hoopwright.papers.pictures.liner_map import liner_map
from hoopwright.papers.pictures.strain_wash import section_wash, strain_line
from hoopwright.papers.walk_from_plan import strained
from hoopwright.plan.ring_plan import plan_ring
from hoopwright.plan.shelf import Shelf

STRAIN_MM = 12.0


def ring(name: str, of: Path | None = None) -> Drawing:
    """Section of a ring after its last hit, washed with strain as share of its limit; it shows itself in a notebook.

    Parameters
    ----------
    of : liner file; the demonstration's where none is named.

    Raises
    ------
    InputError, FileFaults, CardError
        See `read_liner` and `plan_ring`.
    """
    liner, shelf = _opened(of)
    plan = plan_ring(liner, name, shelf)
    step = next(step for step in reversed(plan.walk) if step.kind == "size")
    shown = strained(plan, step)
    piece = shown.piece
    scale = 120.0 / float(piece.z_mm.max() - piece.z_mm.min())
    line = strain_line(shown, scale, STRAIN_MM)
    lowest = float(np.min(piece.r_mm - piece.thickness_mm))
    section = section_wash(shown, f"{name}, {step.title}")
    placed = (Placed(section, (0.0, STRAIN_MM + 2.0 - scale * lowest), scale), Placed(line, (0.0, 0.0), 1.0))
    return Drawing(placed, section.title)


def liner(of: Path | None = None) -> Drawing:
    """Section of the whole liner; it shows itself in a notebook."""
    return liner_map(_opened(of)[0])


def _opened(of: Path | None) -> tuple[Liner, Shelf]:
    return (demo_liner(), Shelf()) if of is None else (read_liner(of), Shelf(cards_folder(of)))
