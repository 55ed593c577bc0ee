"""The shape of a card file, schema `hoopwright-card-1`: what may stand where. Meaning is checked in `checking`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from hoopwright.findings import Basis

SCHEMA = "hoopwright-card-1"

Number = Annotated[float, Field(allow_inf_nan=False)]
Said = Annotated[str, Field(min_length=1)]
Pair = Annotated[list[Number], Field(min_length=2, max_length=2)]
Law = Literal["swift", "voce", "ludwik", "tabulated"]


class Shape(BaseModel):
    """No unknown key, no silent conversion."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class AtShape(Shape):
    """Where a figure holds: one temperature, or a range, and a condition in words."""

    temperature_degC: Number | None = None
    from_degC: Number | None = None
    to_degC: Number | None = None
    condition: str = ""


class GroundShape(Shape):
    """What a figure stands on."""

    basis: Basis
    where: Said
    at: AtShape = AtShape()
    invented: bool = False
    note: str = ""


class FigureShape(GroundShape):
    """One number."""

    value: Number
    unit: Said
    u: Annotated[float, Field(ge=0.0, allow_inf_nan=False)] | None = None
    range: Pair | None = None


class TableShape(GroundShape):
    """A curve or table: one unit a column."""

    columns: Annotated[list[Said], Field(min_length=2)]
    units: Annotated[list[Said], Field(min_length=2)]
    rows: Annotated[list[list[Number]], Field(min_length=2)]
    u: list[Annotated[float, Field(ge=0.0, allow_inf_nan=False)]] | None = None
    row_basis: list[Basis] | None = None
    reference_degC: Number | None = None


class FlowShape(GroundShape):
    """A flow curve: a law with its constants, or points of plastic strain (log) and true stress [MPa]."""

    law: Law
    constants: dict[str, Number] = {}
    u: dict[str, Number] = {}
    points: list[Pair] = []
    strain_max_log: Annotated[float, Field(gt=0.0, allow_inf_nan=False)]
    rms_MPa: Annotated[float, Field(ge=0.0, allow_inf_nan=False)] | None = None


class NoteShape(Shape):
    """Something a person should know that is no number."""

    about: Said
    text: Said
    basis: Basis
    where: Said
    invented: bool = False


class CardShape(Shape):
    """A whole card file."""

    schema_: Annotated[Literal["hoopwright-card-1"], Field(alias="schema")]
    kind: Literal[
        "alloy", "tool_steel", "gauge", "lubricant", "roll", "expander", "press", "laser", "wire", "furnace",
        "spread", "limits", "toolroom", "seam",
    ]  # fmt: skip
    id: Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9_.-]*$")]
    title: str = ""
    family: str = ""
    condition: str = ""
    range_of_use: str = ""
    entered_by: Said
    checked_by: str
    based_on: str = ""
    figure: dict[str, FigureShape] = {}
    table: dict[str, TableShape] = {}
    flow: dict[Literal["first", "reyield"], FlowShape] = {}
    note: list[NoteShape] = []
