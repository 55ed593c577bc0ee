"""Kinds of values that may stand in our files, each strict: no text for a number, no true for 1.0, no nan, no inf."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

NAME_PATTERN = r"^[A-Za-z0-9][A-Za-z0-9_.-]*$"


class Table(BaseModel):
    """A table of a file: no unknown key, no silent conversion."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


Name = Annotated[str, Field(pattern=NAME_PATTERN, max_length=80)]
Said = Annotated[str, Field(min_length=1, max_length=2000)]
Text = Annotated[str, Field(max_length=2000)]
Number = Annotated[float, Field(ge=-1e6, le=1e6, allow_inf_nan=False)]
Positive = Annotated[float, Field(gt=0.0, le=1e6, allow_inf_nan=False)]
NotNegative = Annotated[float, Field(ge=0.0, le=1e6, allow_inf_nan=False)]
Share = Annotated[float, Field(ge=0.0, le=1.0, allow_inf_nan=False)]
Celsius = Annotated[float, Field(ge=-273.15, le=2000.0, allow_inf_nan=False)]
Angle = Annotated[float, Field(ge=-360.0, le=360.0, allow_inf_nan=False)]
Count = Annotated[int, Field(ge=0, le=1_000_000)]
FromOne = Annotated[int, Field(ge=1, le=10_000)]
Point = Annotated[list[Number], Field(min_length=2, max_length=2)]
FaceWord = Literal["inside", "outside"]


def key(meaning: str, default: Any = ...) -> Any:
    """A key with its meaning, as the documentation prints it; without a default it must be there."""
    return Field(default, description=meaning)
