"""Pictures' inputs from tools: the segment set with its true bore."""

from __future__ import annotations

from dataclasses import replace

from hoopwright.papers.pictures.segments import SegmentView
from hoopwright.papers.tools_from_plan import segments_of
from hoopwright.plan.ring_tools import RingTools


def set_view(tools: RingTools) -> SegmentView:
    """The set as its drawings show it, under its tool's name."""
    return replace(segments_of(tools.plan), name=tools.parts.form.name)
