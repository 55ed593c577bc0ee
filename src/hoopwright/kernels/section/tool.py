"""Rigid tools and how hard the contact with them is. Units mm, N, MPa."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.errors import InputError, require_finite, require_positive, require_range
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.section.contour import require_contour


@dataclass(frozen=True, slots=True)
class Contact:
    """Stiffness of contact as a share of E/t, and the depth over which it sets in.

    share : contact stiffness over Young's modulus per thickness. blend_mm : rounding length of the penalty. [mm]
    """

    share: float
    blend_mm: float

    def __post_init__(self) -> None:
        require_range("share", self.share, 1e-7, 10.0)
        require_positive("blend_mm", self.blend_mm, "mm")


STIFF = Contact(1.0, 0.002)
"""For a sheet stretched over a one-sided tool: depth below 1 um, robust there from first touch."""

SOFT = Contact(0.025, 0.020)
"""For blanks lying flat between tools: 25 to 43 um depth on loaded walls; follow with `settle` for dimensions."""


@dataclass(frozen=True, slots=True)
class Tool:
    """A rigid tool.

    Parameters
    ----------
    name : what messages and results call it.
    contour : its working contour in (x, y); the free side, where the sheet is, on the LEFT of travel. Ends should reach
        past the sheet.
    friction : Coulomb number.
    cushion_N_per_mm3 : contact stiffness of its own, for an elastic cushion or blank holder; None follows the step.
    """

    name: str
    contour: Profile
    friction: float = 0.0
    cushion_N_per_mm3: float | None = None

    def __post_init__(self) -> None:
        if not isinstance(self.name, str) or not self.name:
            raise InputError("tool name", self.name, "", "a word", "name the tool")
        require_contour(self.name, self.contour)
        require_range(f"{self.name}: friction", self.friction, 0.0, 1.0)
        if self.cushion_N_per_mm3 is not None:
            require_positive(f"{self.name}: cushion_N_per_mm3", self.cushion_N_per_mm3, "N/mm3")


@dataclass(frozen=True, slots=True)
class Force:
    """A tool pressed by a given force: its travel along (dx, dy) is found.

    tool : name. dx, dy : direction in which it pushes the sheet, any length. start_N, end_N : force on the whole ring
    or per mm of strip at start and end of the step, above 0. [N]
    """

    tool: str
    dx: float
    dy: float
    start_N: float
    end_N: float

    def __post_init__(self) -> None:
        require_finite("dx", self.dx)
        require_finite("dy", self.dy)
        if self.dx == 0.0 and self.dy == 0.0:
            raise InputError(f"{self.tool}: direction", (0.0, 0.0), "", "a direction", "say which way it pushes")
        for field, value in (("start_N", self.start_N), ("end_N", self.end_N)):
            if not require_finite(f"{self.tool}: {field}", value, "N") > 0.0:
                raise InputError(
                    f"{self.tool}: {field}",
                    value,
                    "N",
                    "above 0",
                    "enter the holder force, or leave the tool out; a closed gap is a tool with a place and no force",
                )
