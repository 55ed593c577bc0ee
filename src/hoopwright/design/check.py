"""A liner file looked at in one go: what cannot be read, and what geometry says of everything that can."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from hoopwright.cards.shop import house_limits
from hoopwright.design.checks.neighbours import neighbour_findings
from hoopwright.design.geometry_checks import geometry_findings, ring_findings
from hoopwright.design.liner_reading import Read, look_at, look_at_text, of_another_file
from hoopwright.design.shapes import Liner
from hoopwright.errors import CardError, Fault, FileFaults
from hoopwright.findings import Finding, gravest_first


@dataclass(frozen=True, slots=True)
class Checked:
    """A file after checking.

    liner : the liner, for drawing; with faults, only what of it could be made sense of; None where that is nothing.
    faults : in the order of their lines. findings : gravest first. cards_folder : the shop's own cards, as named.
    """

    liner: Liner | None
    faults: tuple[Fault, ...]
    findings: tuple[Finding, ...]
    cards_folder: Path | None

    @property
    def sound(self) -> bool:
        """Whether a plan may be made: no fault, and nothing that stops."""
        return not self.faults and not any(finding.level == "stop" for finding in self.findings)


def check_file(path: Path, shop_folder: Path | None = None) -> Checked:
    """Everything wrong with a liner file; never raises for what stands in it or in the cards it names."""
    return _checked(look_at(path, shop_folder))


def check_text(text: str | bytes, name: str, shop_folder: Path | None = None, folder: Path | None = None) -> Checked:
    """The same for a text; `folder` is where its DXF files and cards lie."""
    content = text.encode() if isinstance(text, str) else text
    return _checked(look_at_text(content, name, shop_folder, folder))


def _checked(read: Read) -> Checked:
    liner = read.liner
    if liner is None:
        return Checked(None, read.faults, (), read.cards_folder)
    try:
        findings = _partial(liner) if read.faults else geometry_findings(liner, None, read.cards_folder)
    except FileFaults as problem:
        return Checked(liner, (*read.faults, *of_another_file(problem)), (), read.cards_folder)
    except CardError as problem:
        what, _, remedy = str(problem).partition(" Do: ")
        fault = Fault("cards", what, "", "cards with every figure a check needs", remedy or "complete the card")
        return Checked(liner, (*read.faults, fault), (), read.cards_folder)
    return Checked(liner, read.faults, findings, read.cards_folder)


def _partial(liner: Liner) -> tuple[Finding, ...]:
    """Findings of the rings alone: with faults in the file, the rest of the liner may be there in part only."""
    limits = house_limits()
    found = [finding for ring in liner.rings for finding in ring_findings(liner, ring, limits)]
    overlaps = [finding for finding in neighbour_findings(liner, limits) if finding.topic == "overlap"]
    return gravest_first([*found, *overlaps])
