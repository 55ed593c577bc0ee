"""Figures, findings and legends as a template shows them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from hoopwright.findings import Figure, Finding, Level
from hoopwright.papers.drawing.items import Drawing, Hatch, Item, Mark, Path, rectangle
from hoopwright.papers.numbers import figure_digits
from hoopwright.papers.pictures.basis import BASIS_WORDS
from hoopwright.papers.pictures.gauge import Gauge, gauge
from hoopwright.papers.pictures.sheet_metal import Firmness
from hoopwright.web.drawing import screen
from hoopwright.web.words import band_of, sentence, value_of, whole, why_address


@dataclass(frozen=True, slots=True)
class FindingShown:
    """A finding with its number and mark."""

    number: int
    level: Level
    mark: Markup
    sentence: Markup
    why: Markup
    remedy: Markup


@dataclass(frozen=True, slots=True)
class FigureShown:
    """A figure: value with the underline of its basis, gauge where it has limits, band, address of its working."""

    name: str
    value: str
    basis: str
    ground: str
    href: str
    gauge: Markup | None
    band: str
    key: str = ""


@dataclass(frozen=True, slots=True)
class Key:
    """One entry of a legend."""

    picture: Markup
    words: str


def mark_of(number: int, level: Level) -> Markup:
    """The number of a finding in its ring or octagon."""
    return screen(Drawing((Mark((0.0, 0.0), number, level),), f"{level} {number}"), 1.0, (-3.2, -3.2, 3.2, 3.2))


def findings_shown(findings: Sequence[Finding]) -> tuple[FindingShown, ...]:
    """Findings numbered from 1, in this order."""
    return tuple(
        FindingShown(
            number,
            finding.level,
            mark_of(number, finding.level),
            sentence(finding.sentence),
            sentence(finding.why),
            sentence(finding.remedy, capital=False),
        )
        for number, finding in enumerate(findings, start=1)
    )


def figure_shown(
    figure: Figure,
    at: tuple[str, str],
    low: float | None = None,
    high: float | None = None,
    measured: float | None = None,
    key: str = "",
) -> FigureShown:
    """A figure with its limits; `at` is liner and revision. key : name by which a script finds it."""
    picture = None
    if low is not None or high is not None:
        band = figure.band
        wanted = Gauge(
            figure.value, low, high, band.low if band else None, band.high if band else None, measured,
            figure_digits(figure),
        )  # fmt: skip
        picture = screen(gauge(wanted, 22.0), look="gauge")
    ground = f"{BASIS_WORDS[figure.source.basis]}: {figure.source.where}" + (
        ", invented" if figure.source.invented else ""
    )
    return FigureShown(
        figure.name,
        value_of(figure),
        figure.source.basis,
        ground,
        why_address(*at, figure),
        picture,
        "" if picture is not None else band_of(figure),
        key,
    )


def swatch(kind: Firmness) -> Markup:
    """How a part of this firmness is drawn."""
    box = rectangle(0.0, 0.0, 8.0, 1.6)
    looks: dict[str, list[Item]] = {
        "pencil": [Path(box, "dashed", "sheet", True)],
        "outline": [Path(box, "narrow", "sheet", True)],
        "hatched": [Path(box, "narrow", "sheet", True), Hatch((box,), 45.0, 1.1)],
        "solid": [Path(box, "narrow", "ink", True)],
    }
    return screen(Drawing(tuple(looks[kind]), kind), 1.0, (-0.4, -0.4, 8.4, 2.0))


def wash_swatch(step: int, hatch: str = "") -> Markup:
    """One step of the wash; hatch : "near" or "over"."""
    box = rectangle(0.0, 0.0, 7.0, 2.4)
    items: list[Item] = [Path(box, None, f"wash{step}", True)]
    if hatch:
        items.append(Hatch((box,), 45.0, 0.65, "near"))
    if hatch == "over":
        items.append(Hatch((box,), -45.0, 0.65, "over"))
    return screen(Drawing(tuple(items), f"step {step}"), 1.0, (0.0, 0.0, 7.0, 2.4))


def phrase(text: str) -> Markup:
    """Words in which numbers of parts do not break."""
    return whole(text)
