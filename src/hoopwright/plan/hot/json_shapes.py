"""The shapes of growth.json and seal.json, and what every key means; the published schemas are made from these.

Lengths, forces and temperatures in the unit that the key, or the figure's own `unit`, says; nine significant digits.
"""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.plan.json_shapes import KEYS as PLAN_KEYS
from hoopwright.plan.json_shapes import FigureRow, FindingRow

GROW_SCHEMA, SEAL_SCHEMA = "hoopwright-growth-1", "hoopwright-seal-1"


@dataclass(frozen=True, slots=True)
class DatumRow:
    """Where the liner hangs along the axis."""

    part: str
    along_mm: float


@dataclass(frozen=True, slots=True)
class StationRow:
    """One station of one part."""

    part: str
    name: str
    metal_degC: float
    z_cold_mm: float
    r_cold_mm: float
    radial_mm: float
    axial_mm: float
    z_hot_mm: float
    r_hot_mm: float


@dataclass(frozen=True, slots=True)
class GapRow:
    """A gap through time."""

    key: str
    name: str
    cold_mm: float
    times_s: tuple[float, ...]
    gap_mm: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class ShareRow:
    """What one input contributes to a stack."""

    name: str
    slope: float
    worst: float
    worst_share: float
    square_share: float


@dataclass(frozen=True, slots=True)
class MendRow:
    """A change that brings a stack to what is wanted."""

    words: str
    changes: str
    worst_mm: float


@dataclass(frozen=True, slots=True)
class StackRow:
    """A stack of tolerances and temperatures on a gap."""

    key: str
    name: str
    wanted_mm: float
    nominal_mm: float
    worst_mm: float
    linear_mm: float
    rss_low_mm: float
    under_pct: float
    contributors: tuple[ShareRow, ...]
    mends: tuple[MendRow, ...]


@dataclass(frozen=True, slots=True)
class CurveRow:
    """Load of the spring at one deflection."""

    deflection_mm: float
    cold_N: float
    hot_N: float


@dataclass(frozen=True, slots=True)
class AlternativeRow:
    """Another form of the spring plate that holds at its worst corner."""

    changes: tuple[str, ...]
    deflection_mm: float
    thickness_mm: float
    stiffness_N_per_mm: float
    load_hot_N: float
    load_hot_worst_N: float
    stress_worst_MPa: float


@dataclass(frozen=True, slots=True)
class GrowthFile:
    """growth.json."""

    schema: str
    liner: str
    revision: str
    invented: bool
    mark: str
    temperatures: str
    datum: DatumRow
    stations: tuple[StationRow, ...]
    gaps: tuple[GapRow, ...]
    stacks: tuple[StackRow, ...]
    figures: tuple[FigureRow, ...]
    findings: tuple[FindingRow, ...]


@dataclass(frozen=True, slots=True)
class SealFile:
    """seal.json."""

    schema: str
    liner: str
    revision: str
    invented: bool
    mark: str
    stacks: tuple[StackRow, ...]
    spring_curve: tuple[CurveRow, ...]
    alternatives: tuple[AlternativeRow, ...]
    figures: tuple[FigureRow, ...]
    findings: tuple[FindingRow, ...]


HEAD = {
    "schema": "name and version of this shape",
    "liner": "number of the liner",
    "revision": "revision of its drawing",
    "invented": "true where the data describe no real liner",
    "mark": "digest of the inputs; the same on paper",
    "stacks": "stacks of tolerances and temperatures",
    "figures": "every figure with its working",
    "findings": "what is to be said, gravest first",
}

OWN_KEYS: dict[str, str] = {
    **{f"GrowthFile.{key}": words for key, words in HEAD.items()},
    "GrowthFile.temperatures": "where the temperatures come from, in words",
    "GrowthFile.datum": "where the liner hangs along the axis",
    "GrowthFile.stations": "ends, welds, port circle and given places of every part, steady",
    "GrowthFile.gaps": "gaps through start and stop; empty where no temperatures through time are known",
    **{f"SealFile.{key}": words for key, words in HEAD.items()},
    "SealFile.spring_curve": "load of a spring plate against deflection, cold, and hot after relaxation",
    "SealFile.alternatives": "other forms of the spring plate, fewest changes first",
    "DatumRow.part": "part that is held",
    "DatumRow.along_mm": "distance along its section at which it is held",
    "StationRow.part": "number of the part",
    "StationRow.name": "which station",
    "StationRow.metal_degC": "metal temperature there",
    "StationRow.z_cold_mm": "axial place, cold",
    "StationRow.r_cold_mm": "radius of the middle of the sheet, cold",
    "StationRow.radial_mm": "movement outward",
    "StationRow.axial_mm": "movement aft",
    "StationRow.z_hot_mm": "axial place, hot",
    "StationRow.r_hot_mm": "radius of the middle of the sheet, hot",
    "GapRow.key": "short stable name",
    "GapRow.name": "the shop's words for it",
    "GapRow.cold_mm": "as drawn",
    "GapRow.times_s": "times after light-off",
    "GapRow.gap_mm": "gap at these times; below 0 it would have closed",
    "ShareRow.name": "input",
    "ShareRow.slope": "change of the gap by one unit of the input",
    "ShareRow.worst": "slope times half its range",
    "ShareRow.worst_share": "share of the sum of these",
    "ShareRow.square_share": "share of the sum of their squares",
    "MendRow.words": "what may be changed",
    "MendRow.changes": "smallest change that is enough, in words",
    "MendRow.worst_mm": "worst corner afterwards",
    "StackRow.key": "short stable name",
    "StackRow.name": "the shop's words for it",
    "StackRow.wanted_mm": "least value that is asked for",
    "StackRow.nominal_mm": "all inputs as drawn",
    "StackRow.worst_mm": "least over all corners",
    "StackRow.linear_mm": "worst case by slopes; not safe either way",
    "StackRow.rss_low_mm": "root-sum-square below the middle",
    "StackRow.under_pct": "share of samples under `wanted_mm`",
    "StackRow.contributors": "inputs, greatest first",
    "StackRow.mends": "ways to mend it, smallest first; empty where it holds",
    "CurveRow.deflection_mm": "deflection from the free height after ageing",
    "CurveRow.cold_N": "load, cold",
    "CurveRow.hot_N": "load, hot, after relaxation",
    "AlternativeRow.changes": "what differs from the drawing",
    "AlternativeRow.deflection_mm": "deflection at assembly",
    "AlternativeRow.thickness_mm": "sheet",
    "AlternativeRow.stiffness_N_per_mm": "stiffness of the plate, cold",
    "AlternativeRow.load_hot_N": "hot load, nominal",
    "AlternativeRow.load_hot_worst_N": "hot load at the worst corner",
    "AlternativeRow.stress_worst_MPa": "stress at the worst corner",
}

KEYS: dict[str, str] = PLAN_KEYS | OWN_KEYS
