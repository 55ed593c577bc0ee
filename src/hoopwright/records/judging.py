"""Records of judgement: findings, decisions, concessions, releases. A computed pass is no release: a person signs."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import ClassVar

from hoopwright.errors import InputError
from hoopwright.records.shape import (
    Shape,
    day,
    given_identity,
    identity,
    moment,
    name,
    number,
    one_of,
    refers,
    text,
    words,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptFinding(Shape):
    """A finding that stays until it is answered. about : identity of part, tool or lot."""

    kind: ClassVar[str] = "finding"
    liner: str = name()
    level: str = one_of("note", "caution", "stop")
    sentence: str = text(least=1)
    remedy: str = text(least=1)
    about: str = text(least=1, most=200)
    topic: str = name()
    why: str = text()
    state: str = one_of("open", "answered", default="open")
    answer: str = text()
    id: str = given_identity()


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision(Shape):
    """What a person decided, and why. findings : identities of the findings it answers."""

    kind: ClassVar[str] = "decision"
    liner: str = name()
    about: str = text(least=1, most=200)
    verdict: str = text(least=1, most=200)
    reason: str = text(least=1)
    decided_by: str = text(least=1, most=200)
    office: str = text(least=1, most=200)
    findings: tuple[str, ...] = words()
    decided_at: dt.datetime = moment()
    id: str = given_identity()


@dataclass(frozen=True, slots=True, kw_only=True)
class Concession(Shape):
    """A part outside its drawing: what, by how much, its effect, what is to be done with it, who signs, until when."""

    kind: ClassVar[str] = "concession"
    id: str = identity()
    liner: str = name()
    serial: str = refers("part", optional=False)
    characteristic: str = text(least=1, most=200)
    unit: str = text(most=20)
    measured: float = number("", -1e9, 1e9)
    low: float | None = number("", -1e9, 1e9, None)
    high: float | None = number("", -1e9, 1e9, None)
    effect: str = text(least=1)
    disposition: str = one_of("use as is", "rework", "pair with a chosen mate", "scrap", default="use as is")
    state: str = one_of("open", "granted", "refused", "expired", default="open")
    asked_by: str = text(least=1, most=200)
    signed_by: str = text(most=200)
    office: str = text(most=200)
    expires: dt.date | None = day()
    reason: str = text()

    def further(self) -> None:
        """A granted or refused concession bears a name and an office."""
        if self.state in ("granted", "refused") and not (self.signed_by and self.office):
            raise InputError(
                "concession.signed_by", "nobody", "", "a named signatory", "name who signs, and the office"
            )

    @property
    def beyond(self) -> float:
        """How far outside the limits [unit]; 0 inside."""
        over = self.measured - self.high if self.high is not None else 0.0
        under = self.low - self.measured if self.low is not None else 0.0
        return max(0.0, over, under)


@dataclass(frozen=True, slots=True, kw_only=True)
class Release(Shape):
    """A release by a named signatory. extent : full or partial, with its reason. statement : limits it carries.

    evidence : SHA-256 of the report that was signed. about_kind and about : part, build, tool or weld lot.
    """

    kind: ClassVar[str] = "release"
    id: str = identity()
    liner: str = name()
    about_kind: str = one_of("part", "build", "tool", "weld_lot", "first_article")
    about: str = name()
    extent: str = one_of("full", "partial", default="full")
    reason: str = text(least=1)
    statement: str = text()
    signed_by: str = text(least=1, most=200)
    office: str = text(least=1, most=200)
    evidence: str = text(most=64)
    state: str = one_of("in force", "withdrawn", default="in force")
    signed_at: dt.datetime = moment()


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper(Shape):
    """A paper that was given out. about : part, tool or liner it is for. mark : of its inputs, as printed on it.

    digest : SHA-256 of its bytes, "" where it was printed elsewhere.
    """

    kind: ClassVar[str] = "paper"
    liner: str = name()
    revision: str = name()
    paper: str = name()
    about: str = name()
    mark: str = text(most=40)
    digest: str = text(most=64)
    state: str = one_of("in force", "superseded", default="in force")
    replaced_by: str | None = refers("paper")
    note: str = text()
    issued_at: dt.datetime = moment()
    id: str = given_identity()


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignChange(Shape):
    """A design change and what was decided of it. impact : the list as JSON, as it was when it was decided."""

    kind: ClassVar[str] = "design_change"
    id: str = identity()
    liner: str = name()
    revision: str = name()
    words: str = text(least=1)
    state: str = one_of("proposed", "taken", "dropped", default="proposed")
    old: str | None = refers("liner_revision")
    new: str | None = refers("liner_revision")
    impact: str = text(most=2_000_000)
    decided_by: str = text(most=200)
    reason: str = text()

    def further(self) -> None:
        """A change that is taken or dropped bears a name."""
        if self.state != "proposed" and not self.decided_by:
            raise InputError("design_change.decided_by", "nobody", "", "a name", "say who decided")
