"""Thin-sheet sections formed between rigid tools: one shell kernel for sections of revolution and for strips.

Start from `mesh_profile` or `mesh_line`, say what the sheet is with `Metal`, what is done with `Schedule`, and `run`
it. Theory: docs/theory/section.md.
"""

from hoopwright.kernels.section.cutting import kept, node_near
from hoopwright.kernels.section.mesh import mesh_line, mesh_points, mesh_profile
from hoopwright.kernels.section.metal import Metal
from hoopwright.kernels.section.result import Energies, History, Result, StepEnd
from hoopwright.kernels.section.run import run
from hoopwright.kernels.section.schedule import (
    FREE,
    Cut,
    Drift,
    Lead,
    Release,
    Schedule,
    Step,
    Support,
    clamp,
    settled,
    symmetry,
)
from hoopwright.kernels.section.section import Section
from hoopwright.kernels.section.tool import SOFT, STIFF, Contact, Force, Tool

__all__ = [
    "FREE",
    "SOFT",
    "STIFF",
    "Contact",
    "Cut",
    "Drift",
    "Energies",
    "Force",
    "History",
    "Lead",
    "Metal",
    "Release",
    "Result",
    "Schedule",
    "Section",
    "Step",
    "StepEnd",
    "Support",
    "Tool",
    "clamp",
    "kept",
    "mesh_line",
    "mesh_points",
    "mesh_profile",
    "node_near",
    "run",
    "settled",
    "symmetry",
]
