"""A welded hoop stretched on rigid segments and released: a plane chain of nodes with elastic-plastic fibres.

Say what the hoop is (`HoopSection`, `InitialShape`, `Weld`), what is under it (`SegmentTool`) and what is done
(`Hit`), and call `size_hoop`. Theory: docs/theory/hoop.md.
"""

from hoopwright.kernels.hoop.hits import size_hoop
from hoopwright.kernels.hoop.inputs import (
    FibreState,
    Fineness,
    Harmonic,
    Hit,
    HoopSection,
    InitialShape,
    SegmentTool,
    Weld,
    flat_section,
    virgin,
)
from hoopwright.kernels.hoop.result import (
    HitResult,
    HoopResult,
    LoadHistory,
    RingState,
    SegmentLoad,
    WorkBalance,
)

__all__ = [
    "FibreState", "Fineness", "Harmonic", "Hit", "HitResult", "HoopResult", "HoopSection", "InitialShape",
    "LoadHistory", "RingState", "SegmentLoad", "SegmentTool", "Weld", "WorkBalance", "flat_section", "size_hoop",
    "virgin",
]  # fmt: skip
