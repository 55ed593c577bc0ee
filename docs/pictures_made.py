"""Pictures of the documentation, drawn by the program."""

from __future__ import annotations

from hoopwright.design.demo import demo_liner
from hoopwright.papers.drawing.svg import svg
from hoopwright.papers.pictures.liner_map import liner_map


def liner() -> str:
    """The demonstration liner in section, to scale."""
    return svg(liner_map(demo_liner()), 1.4)
