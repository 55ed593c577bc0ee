"""The proof of a ring as plan.json has it, and the meaning of its keys."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.plan.prove.record import Proof


@dataclass(frozen=True, slots=True)
class ProofSizeRow:
    """One control size, diameters by girth tape."""

    name: str
    wanted_mm: float
    tolerance_mm: float
    reckoned_mm: float
    uncorrected_mm: float
    loaded_mm: float
    free_mm: float
    residual_mm: float
    holds: bool


@dataclass(frozen=True, slots=True)
class ProofStationRow:
    """The trimmed ring at one station, proof beside reckoning."""

    z_mm: float
    radius_mm: float
    thickness_mm: float
    thickness_reckoned_mm: float
    hoop_log: float
    hoop_reckoned_log: float
    plastic: float
    plastic_reckoned: float


@dataclass(frozen=True, slots=True)
class ProofRow:
    """The proof run of one ring."""

    key: str
    holds: bool
    reason: str
    elements: int
    layers: int
    sizes: tuple[ProofSizeRow, ...]
    cut_length_mm: float
    cut_length_reckoned_mm: float
    curl_radius_mm: float
    curl_radius_reckoned_mm: float
    roll_deviation_mm: float
    roll_deviation_uncorrected_mm: float
    roll_depth_mm: float
    profile_deviation_mm: float
    ledge: str
    ledge_kN: float
    stations: tuple[ProofStationRow, ...]


def proof_row(proof: Proof) -> ProofRow:
    """A proof as its row."""
    return ProofRow(
        key=proof.key,
        holds=proof.holds,
        reason=proof.reason,
        elements=proof.elements,
        layers=proof.layers,
        sizes=tuple(
            ProofSizeRow(
                s.name, s.wanted_mm, s.tolerance_mm, s.reckoned_mm, s.first_mm, s.loaded_mm, s.free_mm, s.residual_mm,
                s.holds,
            )
            for s in proof.sizes
        ),
        cut_length_mm=proof.length.cut_mm,
        cut_length_reckoned_mm=proof.length.reckoned_mm,
        curl_radius_mm=proof.curl.radius_mm,
        curl_radius_reckoned_mm=proof.curl.reckoned_mm,
        roll_deviation_mm=proof.rolls.greatest_mm,
        roll_deviation_uncorrected_mm=proof.rolls.greatest_before_mm,
        roll_depth_mm=proof.rolls.depth_mm,
        profile_deviation_mm=proof.profile_mm[0],
        ledge=proof.ledge,
        ledge_kN=proof.ledge_kN,
        stations=tuple(
            ProofStationRow(
                p.z_mm, p.radius_mm, p.thickness_mm, p.thickness_reckoned_mm, p.hoop_log, p.hoop_reckoned_log,
                p.plastic, p.plastic_reckoned,
            )
            for p in proof.places
        ),
    )  # fmt: skip


PROOF_KEYS: dict[str, str] = {
    "ProofSizeRow.name": "name of the control size",
    "ProofSizeRow.wanted_mm": "drawing",
    "ProofSizeRow.tolerance_mm": "plus or minus",
    "ProofSizeRow.reckoned_mm": "free, as reckoned on the tools as reckoned",
    "ProofSizeRow.uncorrected_mm": "free, as proven on the same tools",
    "ProofSizeRow.loaded_mm": "on the corrected segments, a full circle of their hull",
    "ProofSizeRow.free_mm": "free, trimmed, as proven on the corrected tools",
    "ProofSizeRow.residual_mm": "free_mm less wanted_mm",
    "ProofSizeRow.holds": "whether the residual is below a tenth of the tolerance",
    "ProofStationRow.z_mm": "place along the axis",
    "ProofStationRow.radius_mm": "mid-surface radius, trimmed ring",
    "ProofStationRow.thickness_mm": "as proven",
    "ProofStationRow.thickness_reckoned_mm": "as reckoned",
    "ProofStationRow.hoop_log": "hoop strain from the flat blank, as proven",
    "ProofStationRow.hoop_reckoned_log": "the same as reckoned",
    "ProofStationRow.plastic": "accumulated plastic strain, mean through the sheet, as proven",
    "ProofStationRow.plastic_reckoned": "the same as reckoned",
    "ProofRow.key": "digest the proof is kept under: inputs and program",
    "ProofRow.holds": "whether every control size is within a tenth of its tolerance",
    "ProofRow.reason": "why a residual stays; empty where none does",
    "ProofRow.elements": "of the section",
    "ProofRow.layers": "through the sheet",
    "ProofRow.sizes": "a row for each control size",
    "ProofRow.cut_length_mm": "proven, before welding",
    "ProofRow.cut_length_reckoned_mm": "the same as reckoned",
    "ProofRow.curl_radius_mm": "proven, loaded, of the fibre that keeps its length",
    "ProofRow.curl_radius_reckoned_mm": "the same as reckoned",
    "ProofRow.roll_deviation_mm": "rolled and curled section off the drawing, at most, on the corrected rolls",
    "ProofRow.roll_deviation_uncorrected_mm": "the same on rolls cut to the part's faces",
    "ProofRow.roll_depth_mm": "miss in depth at the middle of a straight, at most",
    "ProofRow.profile_deviation_mm": "trimmed ring off the drawing, at most",
    "ProofRow.ledge": "edge that has to be held along the axis on the segments: none, forward or aft",
    "ProofRow.ledge_kN": "with what force",
    "ProofRow.stations": "thickness and strain along the section",
}
