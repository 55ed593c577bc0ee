"""What the papers of a release say, as plain words and numbers; the desk fills them from the records."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Literal

from hoopwright.findings import Finding

Verdict = Literal["accepted", "undecided", "refused", "not measured", "conceded"]


@dataclass(frozen=True, slots=True)
class About:
    """Head of a paper. number : serial, build or concession. mark : digest of what it was made from."""

    number: str
    liner: str
    revision: str
    mark: str
    date: dt.date
    invented: bool


@dataclass(frozen=True, slots=True)
class Row:
    """One characteristic as it stands on a report. low, high, result, expanded in `unit`; None where there is none."""

    number: int
    name: str
    low: float | None
    high: float | None
    unit: str
    method: str
    held: str
    gauge: str
    wanted: int
    readings: int
    result: float | None
    expanded: float | None
    verdict: Verdict
    note: str = ""


@dataclass(frozen=True, slots=True)
class Statement:
    """What the parts made so far say of a characteristic. interval : holds 95 % of the parts with 95 % confidence.

    cpk, cpk_low, cpk_high : capability and its limits at 95 %; None where the parts are too few. says : in words.
    """

    characteristic: str
    parts: int
    mean: float
    sd: float | None
    interval: tuple[float, float] | None
    low: float | None
    high: float | None
    cpk: float | None
    cpk_low: float | None
    cpk_high: float | None
    says: str


@dataclass(frozen=True, slots=True)
class Link:
    """One line of a genealogy. depth : how far it stands in. what : kind of thing. words : what is known of it."""

    depth: int
    what: str
    id: str
    words: str


@dataclass(frozen=True, slots=True)
class Signed:
    """Who released, in which office, on which day, with which statement."""

    name: str
    office: str
    day: dt.date
    statement: str


@dataclass(frozen=True, slots=True)
class ConcessionLine:
    """A concession as the form and the books show it."""

    number: str
    serial: str
    characteristic: str
    unit: str
    measured: float
    low: float | None
    high: float | None
    beyond: float
    effect: str
    disposition: str
    state: str
    asked_by: str
    signed_by: str
    office: str
    expires: dt.date | None
    reason: str


@dataclass(frozen=True, slots=True)
class FirstArticle:
    """A first-article report of one serial. extent : full or partial; reason : of the report. lacking : what is missing
    for a release, in words."""

    about: About
    part: str
    serial: str
    extent: str
    reason: str
    rows: tuple[Row, ...]
    statements: tuple[Statement, ...]
    tools: tuple[tuple[str, str, str, str, str], ...]
    genealogy: tuple[Link, ...]
    concessions: tuple[ConcessionLine, ...]
    findings: tuple[Finding, ...]
    lacking: tuple[str, ...]
    rule: str
    signed: Signed | None


@dataclass(frozen=True, slots=True)
class BuildPart:
    """A part of a build: place, serial, revision, state, and its lines of size."""

    place: str
    serial: str
    revision: str
    state: str
    sizes: str
    weld_lot: str
    cast: str


@dataclass(frozen=True, slots=True)
class BuildBook:
    """A liner as built. laps : joint, gap [mm] or none, word. open_points : what is open on any serial in it."""

    about: About
    build: str
    parts: tuple[BuildPart, ...]
    laps: tuple[tuple[str, float | None, str], ...]
    concessions: tuple[ConcessionLine, ...]
    genealogy: tuple[Link, ...]
    open_points: tuple[str, ...]
    signed: Signed | None
