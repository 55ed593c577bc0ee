"""Findings kept until a person answers them: what is found against a part stands, and holds its release."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from hoopwright.desk.in_force import needed_liner
from hoopwright.desk.record_book import records, writer_or_default
from hoopwright.errors import InputError
from hoopwright.findings import Finding
from hoopwright.records.judging import Decision, KeptFinding

KEPT_LEVELS = ("stop", "caution")


@dataclass(frozen=True, slots=True)
class OpenFinding:
    """A finding that stands open. id : its number in the records."""

    id: str
    about: str
    level: str
    sentence: str
    remedy: str
    topic: str
    entered_by: str


def keep(address: str | Path | None, about: str, findings: Sequence[Finding], by: str | None) -> tuple[str, ...]:
    """Keep stops and cautions about something; one that stands open already is not entered twice. Their numbers."""
    with records(address) as store:
        liner = needed_liner(store)
        open_ones = {(k.thing.topic, k.thing.sentence) for k in store.list(KeptFinding, about=about, state="open")}
        new = [
            KeptFinding(
                liner=liner.id, level=f.level, sentence=f.sentence, remedy=f.remedy, about=about, topic=f.topic,
                why=f.why,
            )
            for f in findings
            if f.level in KEPT_LEVELS and (f.topic, f.sentence) not in open_ones
        ]  # fmt: skip
        if not new:
            return ()
        with store.writing(writer_or_default(by), f"found against {about}") as write:
            return tuple(kept.id for kept in write.add_all(new))


def open_ones(address: str | Path | None, about: str = "") -> tuple[OpenFinding, ...]:
    """Findings that stand open, of one thing or of all."""
    with records(address) as store:
        found = store.list(KeptFinding, state="open", about=about) if about else store.list(KeptFinding, state="open")
        return tuple(
            OpenFinding(
                k.id, k.thing.about, k.thing.level, k.thing.sentence, k.thing.remedy, k.thing.topic, k.entered_by
            )
            for k in found
        )


def answer(address: str | Path | None, finding: str, verdict: str, reason: str, office: str, by: str | None) -> str:
    """Answer a finding by a decision with a name under it; the number of the decision.

    Raises
    ------
    InputError
        It was answered before, or verdict, reason or office are missing.
    """
    who = writer_or_default(by)
    with records(address) as store:
        kept = store.get(KeptFinding, finding)
        if kept.thing.state == "answered":
            must = f"open; it was answered by {kept.changed_by}: {kept.thing.answer}"
            raise InputError("finding", finding, "", must, "look at its history")
        decision = Decision(
            liner=kept.thing.liner, about=kept.thing.about, verdict=verdict, reason=reason, decided_by=who,
            office=office, findings=(finding,),
        )  # fmt: skip
        with store.writing(who, f"answered: {verdict}") as write:
            made = write.add(decision)
            write.change(kept, state="answered", answer=f"{verdict}: {reason}")
        return made.id
