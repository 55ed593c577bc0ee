"""What a walk sheet shows, as plain values: one row an operation, then the findings, tools and tables of one ring.

The sheet knows nothing of how a ring was planned; `walk_from_plan` fills these shapes from a plan.
"""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.findings import Figure, Finding
from hoopwright.papers.pictures.blanks import Blank
from hoopwright.papers.pictures.icons import Icon
from hoopwright.papers.pictures.segments import SegmentView
from hoopwright.papers.pictures.strain_wash import Strained
from hoopwright.papers.sheet_frame import Title
from hoopwright.tools.rolls import RollPair


@dataclass(frozen=True, slots=True)
class Shown:
    """A figure as a row shows it: with its limits (None where there is none) and what was measured."""

    figure: Figure
    low: float | None = None
    high: float | None = None
    measured: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class WalkRow:
    """One operation. settings : what the operator sets, printed first.

    left_out : figures that only plan.json has. as_before : figures that are as in the row before.
    """

    kind: str
    title: str
    subtitle: str
    icon: Icon
    strained: Strained | None
    settings: tuple[Shown, ...] = ()
    figures: tuple[Shown, ...] = ()
    findings: tuple[int, ...] = ()
    left_out: int = 0
    as_before: int = 0


@dataclass(frozen=True, slots=True)
class StopLine:
    """One line of the stop table: pin stop, shim against the full stop, and each control size loaded and free."""

    stop_mm: float
    shim_mm: float
    loaded_mm: tuple[float, ...]
    free_mm: tuple[float, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class StopTableShown:
    """Stop table. sizes : names of the control sizes. inside : first and last line at which every size is in tolerance.

    chosen : line of the last hit.
    """

    sizes: tuple[str, ...]
    lines: tuple[StopLine, ...]
    inside: tuple[int, int] | None
    chosen: int | None


@dataclass(frozen=True, slots=True)
class RollsShown:
    """The roll pair with its marks. words : what is to be said of it ("first estimate, not yet proven")."""

    pair: RollPair
    name: str
    words: str


@dataclass(frozen=True, slots=True, eq=False)
class WalkContent:
    """Everything on the walk sheet of one ring.

    answer : one or two sentences with the figures in them. budget_words : what the wash is a share of. findings :
    gravest first, numbered from 1 in this order. proven : whether a proof run leaves no residual. proof : what the
    proof run says, empty where none was made.
    """

    title: Title
    answer: str
    budget_words: str
    rows: tuple[WalkRow, ...]
    findings: tuple[Finding, ...]
    proven: bool
    blank: Blank | None = None
    blank_figures: tuple[Shown, ...] = ()
    rolls: RollsShown | None = None
    segments: SegmentView | None = None
    seam_deg: float | None = None
    stops: StopTableShown | None = None
    press: tuple[Shown, ...] = ()
    proof: str = ""

    @property
    def stop_findings(self) -> tuple[Finding, ...]:
        """Findings that hold the sheet back."""
        return tuple(f for f in self.findings if f.level == "stop")
