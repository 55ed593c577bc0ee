"""Curl, on the section kernel: in a second closing of the contoured rolls, in plain rolls, or behind open rolls.

In the rolls the strip is led to a curl and a camber; let go, both spring. The camber is what side guides (or the cone
of the rolls) hold; left free, the strip curls to a cone of its own.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from hoopwright.errors import InputError, require_finite
from hoopwright.findings import Figure, Input
from hoopwright.kernels.section import FREE, Drift, Release, Result, Schedule, Section, Support
from hoopwright.kernels.section import Step as Stride
from hoopwright.kernels.section import run as kernel_run
from hoopwright.process.proof_closing import LOOSE, RollGap, closing
from hoopwright.process.proof_piece import carried, section_metal, section_of
from hoopwright.process.shop import ShopCard
from hoopwright.process.step import Step
from hoopwright.process.working import reckoned
from hoopwright.process.workpiece import Workpiece

How = Literal["second closing", "plain rolls", "open rolls"]
LEVEL: tuple[Literal["y", "angle"], ...] = ("y", "angle")


@dataclass(frozen=True, slots=True, eq=False)
class ProofCurl:
    """Settings of the curl, loaded, in the frame of the rolls.

    curl_per_mm : kr. camber_per_mm : kz held by the guides, None for a strip that is not guided. how : contoured rolls
    closed once more, plain rolls that keep the section flat, or behind rolls that stand open.
    """

    curl_per_mm: float
    camber_per_mm: float | None
    node: int
    how: How = "second closing"
    rolls: RollGap | None = None
    settings: tuple[Figure, ...] = ()

    def __post_init__(self) -> None:
        if not require_finite("curl", self.curl_per_mm, "1/mm") > 0.0:
            raise InputError("curl", self.curl_per_mm, "1/mm", "above 0", "enter 1 over the loaded radius")
        if self.how == "second closing" and self.rolls is None:
            raise InputError("rolls", "none", "", "a pair for a second closing", "give the rolls or curl in plain ones")


@dataclass(frozen=True, slots=True, eq=False)
class Curled:
    """Outcome: section let go, and what the rolls and guides held. [N mm]"""

    section: Section
    moment_Nmm: float
    side_moment_Nmm: float
    loaded: Section


def curled(section: Section, operation: ProofCurl, card: ShopCard, fine: int = 1) -> Curled:
    """The kernel's run of a curl."""
    camber = FREE if operation.camber_per_mm is None else Drift(operation.camber_per_mm)
    metal = section_metal(card.metal)
    if operation.how == "second closing":
        assert operation.rolls is not None
        closed = closing(
            section, operation.rolls, operation.node, metal, 0.0, operation.curl_per_mm, camber, fine=fine
        )  # fmt: skip
        return Curled(closed.section, closed.moment_Nmm, closed.side_moment_Nmm, closed.shut)
    result = _bent(section, operation, camber, card)
    end = result.steps[0]
    return Curled(result.section, float(end.resultant[1]), float(end.resultant[2]), end.section)


def _bent(section: Section, operation: ProofCurl, camber: Drift, card: ShopCard) -> Result:
    """Without contoured rolls: plain ones keep every place at its height, behind open ones the section is free."""
    node = operation.node
    hold: tuple[Support, ...] = (Support(node, "x"), Support(node, "y"))
    if operation.how == "plain rolls":
        hold = (Support(node, "x"), *(Support(k, unknown) for k in range(section.x_mm.size) for unknown in LEVEL))
    step = Stride(
        "curl", supports=hold, stretch=FREE, curl=Drift(operation.curl_per_mm), camber=camber, increments=60,
        hold=0.0 if operation.how == "plain rolls" else 0.01 * LOOSE,
    )  # fmt: skip
    return kernel_run(section, Schedule((step, Release())), section_metal(card.metal))


def run(workpiece: Workpiece, operation: ProofCurl, card: ShopCard) -> Step:
    """Curl and let go: moments of rolls and guides, radius and cone that stay."""
    if workpiece.form != "strip":
        raise InputError(f"{workpiece.part} form", workpiece.form, "", "a strip", "it is closed already")
    done = curled(section_of(workpiece), operation, card)
    after = carried(workpiece, done.section, "curl")
    place = f"{workpiece.part}/proof/curl"
    figures = curl_figures(place, done, card)
    return Step("curl", "Curl to the hoop's radius", operation.how, after, operation.settings, figures, ())


def natural(section: Section) -> tuple[float, float]:
    """Natural radius of the fibre that keeps the flat length [mm], and half angle of the cone against the rolls [rad].

    Fibre length B = 1 at 1 / |k| from the axis, |k| the size of curl and camber together.
    """
    size = math.hypot(section.curl_per_mm, section.camber_per_mm)
    if size == 0.0:
        raise InputError("curl", 0.0, "1/mm", "other than 0", "a straight strip has no radius")
    return 1.0 / size, math.atan2(section.camber_per_mm, section.curl_per_mm)


def curl_figures(place: str, done: Curled, card: ShopCard) -> tuple[Figure, ...]:
    """Moments in the rolls and the natural radius."""
    radius, cone = natural(done.section)
    loaded, ground = done.loaded, card.ground
    kr = Input("k_r", "curl", done.section.curl_per_mm, "per_mm", ground)
    kz = Input("k_z", "camber", done.section.camber_per_mm, "per_mm", ground)
    held = Input("k", "curl in the rolls", loaded.curl_per_mm, "per_mm", ground)
    return (
        reckoned(f"{place}/loaded-radius", "curl in the rolls, radius of the fibre as long as the flat strip",
                 1.0 / loaded.curl_per_mm, "mm", "1 / k", held, digits=2),
        reckoned(f"{place}/moment", "bending moment of the section in the rolls", done.moment_Nmm * 1e-3, "Nm",
                 "M_y / 1000", Input("M_y", "sum of stress times height", done.moment_Nmm, "Nmm", ground), digits=1),
        reckoned(f"{place}/side-moment", "moment the side guides hold", done.side_moment_Nmm * 1e-3, "Nm",
                 "M_z / 1000", Input("M_z", "sum of stress times width", done.side_moment_Nmm, "Nmm", ground),
                 digits=0),
        reckoned(f"{place}/natural-radius", "radius of that fibre, strip let go", radius, "mm",
                 "1 / √ ( k_r ² + k_z ² )", kr, kz, digits=2),
        reckoned(f"{place}/cone", "half angle the strip leans by against the rolls, let go", math.degrees(cone), "deg",
                 "atan ( k_z / k_r )", kz, kr, digits=2),
    )  # fmt: skip
