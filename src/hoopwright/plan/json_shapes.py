"""The shapes of plan.json, and what every key means. The published schema is made from these (`json_schema`).

Lengths and forces in the unit that the key, or the figure's own `unit`, says. Numbers are rounded to nine significant
digits, so that the same plan gives the same bytes on every machine.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from hoopwright.plan.json_proof import PROOF_KEYS, ProofRow

SCHEMA = "hoopwright-plan-1"


@dataclass(frozen=True, slots=True)
class SourceRow:
    """Ground a figure or limit stands on."""

    basis: Literal["measured", "read", "given", "derived", "practice", "memory"]
    where: str
    invented: bool


@dataclass(frozen=True, slots=True)
class BandRow:
    """Where a figure falls in 9 of 10 rings."""

    low: float
    high: float
    how: str
    inside_pct: float | None


@dataclass(frozen=True, slots=True)
class InputRow:
    """One input of a figure's working."""

    symbol: str
    name: str
    value: float | str
    unit: str
    figure: str
    source: SourceRow


@dataclass(frozen=True, slots=True)
class FigureRow:
    """A number a person acts on, with its working."""

    identity: str
    name: str
    value: float
    unit: str
    digits: int
    source: SourceRow
    band: BandRow | None
    formula: str
    inputs: tuple[InputRow, ...]
    note: str


@dataclass(frozen=True, slots=True)
class CheckRow:
    """A claim against a limit."""

    name: str
    value: float
    limit: float
    sense: Literal["<=", ">="]
    unit: str
    holds: bool
    source: SourceRow
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FindingRow:
    """What is to be said, and what to do about it."""

    level: Literal["note", "caution", "stop"]
    topic: str
    about: str
    sentence: str
    remedy: str
    why: str
    source: SourceRow
    check: CheckRow | None


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step of the walk; its figures by identity."""

    kind: str
    title: str
    subtitle: str
    settings: tuple[str, ...]
    figures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OptionRow:
    """A way of making the ring that was weighed."""

    name: str
    slip_pct: float
    chosen: bool
    reason: str


@dataclass(frozen=True, slots=True)
class RestoreRow:
    """A way of restoring worked metal, or of leaving it, that was weighed."""

    name: str
    chosen: bool
    reason: str


@dataclass(frozen=True, slots=True)
class SegmentRow:
    """One line or arc of a contour."""

    start_mm: tuple[float, float]
    end_mm: tuple[float, float]
    centre_mm: tuple[float, float] | None
    ccw: bool


@dataclass(frozen=True, slots=True)
class StopTableRow:
    """One setting of the pin's stop."""

    stop_mm: float
    shim_mm: float
    loaded_mm: tuple[float, ...]
    free_mm: tuple[float, ...]
    lobe_mm: float


@dataclass(frozen=True, slots=True)
class HoleTableRow:
    """One hole of the programme."""

    pattern: str
    number: int
    theta_deg: float
    from_seam_deg: float
    z_mm: float
    diameter_mm: float


@dataclass(frozen=True, slots=True)
class CharacteristicRow:
    """One line of the inspection plan."""

    number: int
    name: str
    wanted: str
    held_by: str
    method: str
    support: str
    readings: int


@dataclass(frozen=True, slots=True)
class StationRow:
    """The sized ring at one station of its section."""

    z_mm: float
    radius_free_mm: float
    radius_welded_mm: float
    segment_radius_mm: float
    thickness_mm: float
    stretch_log: float
    strain_inside_log: float
    strain_outside_log: float


@dataclass(frozen=True, slots=True)
class RingRow:
    """The plan of one ring."""

    ring: str
    mark: str
    proven: bool
    proof: ProofRow | None
    blank: Literal["strip", "arc"]
    rolling: Literal["level", "canted", "conical", "closed-cone"]
    stretches: int
    hits: int
    anneal: bool
    options: tuple[OptionRow, ...]
    restores: tuple[RestoreRow, ...]
    findings: tuple[FindingRow, ...]
    walk: tuple[StepRow, ...]
    figures: tuple[FigureRow, ...]
    controls: tuple[str, ...]
    stop_table: tuple[StopTableRow, ...]
    segment_profile: tuple[SegmentRow, ...]
    inner_roll: tuple[SegmentRow, ...]
    outer_roll: tuple[SegmentRow, ...]
    holes: tuple[HoleTableRow, ...]
    characteristics: tuple[CharacteristicRow, ...]
    stations: tuple[StationRow, ...]


@dataclass(frozen=True, slots=True)
class RefusedRow:
    """A ring that could not be planned, and why."""

    ring: str
    reason: str


@dataclass(frozen=True, slots=True)
class PlanFile:
    """plan.json: the plans of a liner's rings."""

    schema: Literal["hoopwright-plan-1"]
    liner: str
    revision: str
    title: str
    invented: bool
    mark: str
    rings: tuple[RingRow, ...]
    refused: tuple[RefusedRow, ...]


KEYS: dict[str, str] = {
    "SourceRow.basis": "firmest first: measured, read, given, derived, practice, memory",
    "SourceRow.where": "where it comes from, in words: title, year, table, card or drawing",
    "SourceRow.invented": "true where it, or anything it rests on, is invented",
    "BandRow.low": "5 % of rings fall below",
    "BandRow.high": "5 % of rings fall above",
    "BandRow.how": "how the band was obtained, and what was left out",
    "BandRow.inside_pct": "share of rings inside the drawing tolerance; null where none stands on this figure",
    "InputRow.symbol": "symbol in the formula",
    "InputRow.name": "the shop's words for it",
    "InputRow.value": "value in `unit`, or words",
    "InputRow.unit": "unit, spelt as in key names; empty for a bare number",
    "InputRow.figure": "identity, where the input is itself a figure; else empty",
    "InputRow.source": "ground it stands on",
    "FigureRow.identity": "the same on screen, on paper, in explain and here",
    "FigureRow.name": "the shop's words for it",
    "FigureRow.value": "value in `unit`",
    "FigureRow.unit": "unit, spelt as in key names; empty for a bare number",
    "FigureRow.digits": "decimals to print",
    "FigureRow.source": "ground it stands on: the weakest among its inputs",
    "FigureRow.band": "where it falls in 9 of 10 rings, of no width where nothing on the spread card moves it; or null",
    "FigureRow.formula": "equation in symbols, each symbol in `inputs`; empty for a figure taken as it is",
    "FigureRow.inputs": "inputs of the formula",
    "FigureRow.note": "what has to be known with it",
    "CheckRow.name": "the claim, in the shop's words",
    "CheckRow.value": "value that was judged",
    "CheckRow.limit": "limit it was judged by",
    "CheckRow.sense": "<= where the value must not pass the limit, >= where it must reach it",
    "CheckRow.unit": "unit of value and limit; eng and log say which strain, t counts sheet thicknesses",
    "CheckRow.holds": "whether the claim holds",
    "CheckRow.source": "ground of the limit",
    "CheckRow.notes": "what has to be known with it",
    "FindingRow.level": "stop, caution or note",
    "FindingRow.topic": "short stable word for filtering",
    "FindingRow.about": "identity of the figure or part it speaks of",
    "FindingRow.sentence": "what is so, by how much, against which limit",
    "FindingRow.remedy": "what to do, the reversible thing first",
    "FindingRow.why": "why it matters, where that is not plain",
    "FindingRow.source": "ground it stands on",
    "FindingRow.check": "the check behind it, or null",
    "StepRow.kind": "cut, roll, curl, close, weld, anneal, size, trim or drill",
    "StepRow.title": "as the shop says it",
    "StepRow.subtitle": "tool, machine, state",
    "StepRow.settings": "identities of what the operator sets, in order of use",
    "StepRow.figures": "identities of everything else worth knowing",
    "OptionRow.name": "the way, in the shop's words",
    "OptionRow.slip_pct": "worst slip between the faces of the rolls",
    "OptionRow.chosen": "true for the one that was taken",
    "OptionRow.reason": "why it was, or was not",
    "RestoreRow.name": "the way, in the shop's words",
    "RestoreRow.chosen": "true for the one that was taken",
    "RestoreRow.reason": "what speaks for or against it",
    "SegmentRow.start_mm": "first coordinate along the axis, second radius",
    "SegmentRow.end_mm": "as start_mm",
    "SegmentRow.centre_mm": "centre of an arc, null for a line",
    "SegmentRow.ccw": "true where an arc turns left, axis to the right and radius up",
    "StopTableRow.stop_mm": "pin stroke from the collapsed segments",
    "StopTableRow.shim_mm": "against the full stop, below 0 short of it",
    "StopTableRow.loaded_mm": "girth diameter of each control size on the segments, in the order of `controls`",
    "StopTableRow.free_mm": "the same off the segments",
    "StopTableRow.lobe_mm": "peak to valley of the lobes the segments print",
    "HoleTableRow.pattern": "pattern on the ring",
    "HoleTableRow.number": "order of drilling within the pattern",
    "HoleTableRow.theta_deg": "angle on the liner",
    "HoleTableRow.from_seam_deg": "angle from the seam mark, as the drill head counts",
    "HoleTableRow.z_mm": "place along the axis",
    "HoleTableRow.diameter_mm": "hole diameter",
    "CharacteristicRow.number": "balloon",
    "CharacteristicRow.name": "what is inspected",
    "CharacteristicRow.wanted": "value and tolerance, as printed",
    "CharacteristicRow.held_by": "what makes it right",
    "CharacteristicRow.method": "how it is measured",
    "CharacteristicRow.support": "how the part is held",
    "CharacteristicRow.readings": "least number of readings",
    "StationRow.z_mm": "place along the axis",
    "StationRow.radius_free_mm": "mid-surface radius off the segments",
    "StationRow.radius_welded_mm": "mid-surface radius before sizing",
    "StationRow.segment_radius_mm": "radius of the segments under the inside face, loaded",
    "StationRow.thickness_mm": "thickness off the segments",
    "StationRow.stretch_log": "hoop strain from the welded hoop onto the segments",
    "StationRow.strain_inside_log": "plastic strain gathered at the inside face",
    "StationRow.strain_outside_log": "plastic strain gathered at the outside face",
    "RingRow.ring": "number of the ring",
    "RingRow.mark": "digest of drawing and cards, as printed on the papers",
    "RingRow.proven": "whether a proof run stands behind the plan and leaves no residual",
    "RingRow.proof": "the proof run, null where none was made",
    "RingRow.blank": "strip, or arc blank",
    "RingRow.rolling": "how the contour is rolled",
    "RingRow.stretches": "full stretches, with an anneal between them where more than one",
    "RingRow.hits": "hits of the last stretch",
    "RingRow.anneal": "whether the welded hoop is annealed before its stretch",
    "RingRow.options": "every blank and way of rolling that was weighed",
    "RingRow.restores": "one stretch or two, anneal or none, as weighed",
    "RingRow.findings": "gravest first",
    "RingRow.walk": "steps in the order of the shop",
    "RingRow.figures": "every figure once, in the order of use",
    "RingRow.controls": "names of the control sizes",
    "RingRow.stop_table": "settings of the pin's stop",
    "RingRow.segment_profile": "profile the segments are ground to, loaded, edge trims included",
    "RingRow.inner_roll": "contour of the roll on the axis side; axis along the roll, radius",
    "RingRow.outer_roll": "contour of the other roll",
    "RingRow.holes": "hole programme",
    "RingRow.characteristics": "inspection plan",
    "RingRow.stations": "state across the section, edge trims included",
    "RefusedRow.ring": "number of the ring",
    "RefusedRow.reason": "why it could not be planned, and what to do",
    "PlanFile.schema": "format of this file",
    "PlanFile.liner": "number of the liner",
    "PlanFile.revision": "its revision",
    "PlanFile.title": "its title",
    "PlanFile.invented": "whether the liner file calls its data invented",
    "PlanFile.mark": "digest of liner and cards",
    "PlanFile.rings": "plans, in the order of the liner file",
    "PlanFile.refused": "rings that could not be planned",
    **PROOF_KEYS,
}
