"""From a machine's settings to absorbed power, face share and column: conduction and keyhole welds. mm, s, W, K.

Normalised enthalpy in the convention of the beam radius r at 1/e2, properties at T0 and a fixed A = 0.40, which is a
label and no absorptivity:

    B = 0.40 P / (rho cp (Tl - T0) sqrt(pi a v r^3))

In the convention of sigma = r/2 the index is 2.828 times larger; tables of the two are never to be mixed. Depth/r =
0.345 (B - 11.6) through three published tracks (tests/published/laser_tracks_N06625). The share S of keyhole welding
rises about B = 15; Ac, Ak, cd and fsk are fitted to the shop's own sections (`heat_fit`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

from hoopwright.errors import InputError, require_positive
from hoopwright.kernels.heat_metal import HeatMetal, Secant
from hoopwright.kernels.heat_series import depth, width

CONVENTION: Final = "beam radius at 1/e2, properties at 20 degC, A fixed at 0.40"
LABEL_A: Final = 0.40
KEYHOLE_INDEX: Final = 15.0
KEYHOLE_SPREAD: Final = 2.5
COLUMN_INDEX: Final = 11.4
COLUMN_SPREAD: Final = 4.0
LEAST_COLUMN_R: Final = 0.3

Mode = Literal["conduction", "between", "keyhole"]


@dataclass(frozen=True, slots=True)
class Shot:
    """What is set: power on the work [W], speed [mm/s], beam radius at 1/e2 on the sheet [mm], thickness [mm]."""

    power: float
    speed: float
    radius: float
    thickness: float

    def __post_init__(self) -> None:
        require_positive("laser power", self.power, "W")
        require_positive("welding speed", self.speed, "mm/s")
        require_positive("beam radius", self.radius, "mm")
        require_positive("sheet thickness", self.thickness, "mm")


@dataclass(frozen=True, slots=True)
class Absorption:
    """Effective absorption with one card: conduction, keyhole, column factor, face share of a keyhole. [1]"""

    conduction: float = 0.35
    keyhole: float = 0.70
    column: float = 0.37
    face_share: float = 0.30


@dataclass(frozen=True, slots=True)
class Source:
    """Heat source of the kernels: index [1], keyhole share [1], absorbed [W], face share [1], column depth [mm]."""

    index: float
    keyhole_share: float
    absorbed: float
    face_share: float
    column_depth: float

    @property
    def mode(self) -> Mode:
        """Conduction below a tenth of keyhole share, keyhole above nine tenths."""
        return "conduction" if self.keyhole_share < 0.1 else "keyhole" if self.keyhole_share > 0.9 else "between"


@dataclass(frozen=True, slots=True)
class Section:
    """What a micrograph shows: face width and root width [mm]; root is minus the missing depth when not through."""

    face: float
    root: float


def normalised_enthalpy(power: float, speed: float, radius: float, metal: HeatMetal, label: float = LABEL_A) -> float:
    """Index B [1] in the convention above; power [W], speed [mm/s], radius [mm]."""
    a = metal.cold_conductivity / metal.cold_heat
    held = metal.cold_heat * (metal.liquidus - metal.start)
    return label * power / (held * math.sqrt(math.pi * a * speed * radius**3))


def heat_source(shot: Shot, absorption: Absorption, metal: HeatMetal) -> Source:
    """Absorbed power, face share and column of a setting."""
    index = normalised_enthalpy(shot.power, shot.speed, shot.radius, metal)
    share = 1.0 / (1.0 + math.exp(-(index - KEYHOLE_INDEX) / KEYHOLE_SPREAD))
    taken = absorption.conduction + (absorption.keyhole - absorption.conduction) * share
    deep = shot.radius * absorption.column * 4.0 * _softplus((index - COLUMN_INDEX) / COLUMN_SPREAD)
    column = min(shot.thickness, max(deep, LEAST_COLUMN_R * shot.radius))
    face = 1.0 - (1.0 - absorption.face_share) * share
    return Source(index, share, taken * shot.power, face, column)


def _softplus(x: float) -> float:
    return x if x > 40.0 else math.log1p(math.exp(x))


def isotherm_width(shot: Shot, source: Source, metal: Secant, level: Literal["face", "root"]) -> float:
    """Width of an isotherm [mm] on the face or at the root."""
    load = source.absorbed / (metal.heat * shot.thickness)
    z = 0.0 if level == "face" else shot.thickness
    return width(
        metal.rise, z, load, shot.speed, metal.diffusivity, shot.thickness, shot.radius, source.face_share,
        source.column_depth,
    )  # fmt: skip


def peak_temperature(shot: Shot, source: Source, metal: HeatMetal, distance: float) -> float:
    """Peak temperature on the face at a distance from the centre line [degC], distance [mm] outside the bead.

    The isotherm that reaches so far, with the secant properties of that isotherm.

    Raises
    ------
    InputError
        A distance inside the bead, where a temperature would be fiction.
    """
    y = require_positive("distance from the centre line", distance, "mm")
    bead = 0.5 * isotherm_width(shot, source, metal.melt(), "face")
    if y <= bead:
        raise InputError(
            "distance from the centre line", y, "mm", f"above {bead:.2f}, the bead's edge", "ask outside it"
        )
    low, high = metal.start + 5.0, metal.solidus
    if 0.5 * isotherm_width(shot, source, metal.secant(high), "face") >= y:
        return high
    while high - low > 0.2:
        middle = 0.5 * (low + high)
        reached = 0.5 * isotherm_width(shot, source, metal.secant(middle), "face") >= y
        low, high = (middle, high) if reached else (low, middle)
    return 0.5 * (low + high)


def melt_depth(shot: Shot, source: Source, metal: Secant) -> float:
    """Depth of the bead [mm]; the thickness when it goes through."""
    load = source.absorbed / (metal.heat * shot.thickness)
    return depth(
        metal.rise, load, shot.speed, metal.diffusivity, shot.thickness, shot.radius, source.face_share,
        source.column_depth,
    )  # fmt: skip


def section_of(shot: Shot, absorption: Absorption, metal: HeatMetal) -> Section:
    """Face width and root width, or minus the missing depth. [mm]"""
    source, melt = heat_source(shot, absorption, metal), metal.melt()
    face, root = isotherm_width(shot, source, melt, "face"), isotherm_width(shot, source, melt, "root")
    if root > 0.0:
        return Section(face, root)
    return Section(face, melt_depth(shot, source, melt) - shot.thickness)


def penetrating_power(
    speed: float, radius: float, thickness: float, absorption: Absorption, metal: HeatMetal, most: float = 20000.0
) -> float:
    """Least power that melts through [W]; speed [mm/s], radius and thickness [mm].

    Raises
    ------
    InputError
        Nothing up to `most` [W] goes through.
    """

    def through(power: float) -> bool:
        return section_of(Shot(power, speed, radius, thickness), absorption, metal).root > 0.0

    low, high = 0.0, 100.0
    while not through(high):
        low, high = high, 1.6 * high
        if high > most:
            raise InputError("power to penetrate", high, "W", f"at most {most:g}", "weld slower, or focus finer")
    while high - low > 1e-3 * high:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if through(middle) else (middle, high)
    return high
