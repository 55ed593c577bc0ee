"""Where readings hang: what they are of, the hit they were taken after, and what is found at once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from hoopwright.cards.alloy import alloy
from hoopwright.desk.in_force import expectations, liner_in_force
from hoopwright.desk.tool_book import refusal
from hoopwright.errors import CardError, InputError
from hoopwright.findings import Finding
from hoopwright.measure.girth import girth_diameter
from hoopwright.records import Store, Writing
from hoopwright.records.making import Operation, Part, Reading, Tool
from hoopwright.records.shape import Pairs


@dataclass(frozen=True, slots=True)
class About:
    """What is read, and how: serial (or sheet, tool, lot), hit with its stop and set, gauge, temperature, hold.

    replaces : reading that this one corrects.
    """

    subject: str
    of: str = "serial"
    ring: str = ""
    hit: int | None = None
    stop_mm: float | None = None
    segment_set: str = ""
    gauge: str = ""
    part_degC: float | None = None
    tension_N: float | None = None
    held: str = ""
    held_how: str = ""
    more: Mapping[str, str] | None = None
    note: str = ""
    replaces: str = ""


@dataclass(frozen=True, slots=True)
class ReadIn:
    """What was stored: how many readings, their identities, notes and findings."""

    what: str
    subject: str
    ids: tuple[str, ...]
    sizes: tuple[tuple[str, float, float | None, str], ...]
    notes: tuple[str, ...]
    findings: tuple[Finding, ...]


class Place:
    """Where readings hang: the subject, made where it is new, and the operation they were taken after."""

    def __init__(self, store: Store, write: Writing, about: About) -> None:
        self.store, self.write, self.about = store, write, about
        self.findings: list[Finding] = []
        self.notes: list[str] = []
        self.liner = liner_in_force(store)
        self.ring = about.ring
        self.expansion: float | None = None
        if about.of not in ("serial", "sheet", "tool", "lot"):
            raise InputError("--of", about.of, "", "serial, sheet, tool or lot", "name one of these")
        if about.of == "serial":
            self._part()
        self.operation = self._hit()

    def _part(self) -> None:
        there = self.write.find(Part, self.about.subject)
        if there is not None:
            if self.ring and self.ring != there.thing.part:
                raise InputError("--ring", self.ring, "", f"{there.thing.part}, as recorded", "leave it out")
            self.ring = there.thing.part
            return
        if not self.ring:
            raise InputError("serial", self.about.subject, "", "in the records", "name its ring with --ring, once")
        if self.liner is None:
            raise InputError("liner", "none", "", "in the records", "take the liner file first: hoopwright take FILE")
        liner = self.liner
        liner.ring(self.ring)
        self.write.add(Part(id=self.about.subject, liner=liner.id, part=self.ring, revision=liner.revision))
        self.notes.append(f"serial {self.about.subject} is new: entered as {self.ring} revision {liner.revision}")

    def _hit(self) -> str | None:
        about = self.about
        if about.segment_set and self.store.find(Tool, about.segment_set) is not None:
            found = refusal(self.store, about.segment_set)
            self.findings += [found] if found is not None else []
        if about.hit is None:
            return None
        identity = f"{about.subject}.hit-{about.hit}"
        settings: Pairs = (("segment_set", about.segment_set),) if about.segment_set else ()
        settings += (("stop_mm", about.stop_mm),) if about.stop_mm is not None else ()
        there = self.write.find(Operation, identity)
        tool = about.segment_set if about.segment_set and self.write.find(Tool, about.segment_set) else None
        if there is None:
            step = f"sizing hit {about.hit}"
            self.write.add(
                Operation(
                    id=identity, serial=about.subject, step=step, tool=tool, settings=settings, done_by=self.write.by
                )
            )
            self._count_hit(tool)
        elif settings and dict(there.thing.settings) != {**dict(there.thing.settings), **dict(settings)}:
            self.write.change(there, settings=tuple({**dict(there.thing.settings), **dict(settings)}.items()))
        return identity

    def _count_hit(self, tool: str | None) -> None:
        kept = self.write.find(Tool, tool) if tool else None
        if kept is not None:
            self.write.change(kept, hits=kept.thing.hits + 1)

    def reading(self, **fields: Any) -> Reading:
        """A reading of this place; a girth is brought to 20 degC and gets its U."""
        about = self.about
        given: dict[str, Any] = {
            "liner": self.liner.id if self.liner is not None else "unknown", "part": self.ring, about.of: about.subject,
            "operation": self.operation, "gauge": about.gauge, "part_degC": about.part_degC,
            "tension_N": about.tension_N, "held": about.held, "held_how": about.held_how, "note": about.note,
            "taken_by": self.write.by, "replaces": about.replaces or None,
        }  # fmt: skip
        if about.of != "serial":
            given["part"] = ""
        given |= fields
        if about.more:
            given["more"] = (*given.get("more", ()), *((k, _word(v)) for k, v in about.more.items()))
        self._is_a_size(given)
        if given["what"] == "girth" and given["part_degC"] is not None:
            given |= self._at_20(given)
        return Reading(**given)

    def _is_a_size(self, given: Mapping[str, Any]) -> None:
        """After a hit only control sizes are of use: a slip in the name would hide the reading from the correction."""
        if self.about.hit is None or self.liner is None or not self.ring or given["what"] not in ("girth", "loaded"):
            return
        names = [c.name for c in self.liner.ring(self.ring).controls]
        if given["characteristic"] not in names:
            must = f"a control size of {self.ring}: {', '.join(names)}"
            raise InputError("size", given["characteristic"], "", must, "correct the name")

    def _at_20(self, given: Mapping[str, Any]) -> dict[str, Any]:
        rate = self._expansion()
        if rate is None:
            self.notes.append("not brought to 20 degC: the ring's alloy is not known here")
            return {}
        girth = girth_diameter([given["value"]], given["part_degC"], rate, given["tension_N"])
        more = (*given.get("more", ()), ("as_read_mm", given["value"]))
        return {"value": girth.diameter_mm, "expanded": girth.expanded_mm, "more": more}

    def _expansion(self) -> float | None:
        if self.expansion is None and self.liner is not None and self.ring:
            try:
                card = alloy(self.liner.ring(self.ring).material)
                self.expansion = card.mean_expansion_per_K(100.0).value
            except (CardError, InputError):
                return None
        return self.expansion

    def stored(self, what: str, made: Sequence[Reading], notes: Sequence[str]) -> ReadIn:
        """Write them, and say what is found at once."""
        kept = self.write.add_all(made)
        for one in kept:
            self.findings += self._outside(one.thing)
        sizes = tuple(
            (k.thing.characteristic, k.thing.value, k.thing.expanded, k.thing.unit)
            for k in kept
            if k.thing.value is not None
        )
        told = tuple(dict.fromkeys((*notes, *self.notes)))
        return ReadIn(what, self.about.subject, tuple(k.id for k in kept), sizes, told, tuple(self.findings))

    def _outside(self, reading: Reading) -> Iterator[Finding]:
        if reading.what != "girth" or self.about.hit is None or reading.value is None:
            return
        for e in expectations(self.store, self.ring, self.about.hit):
            if e.control != reading.characteristic or e.low_mm is None or e.high_mm is None:
                continue
            moved = e.free_per_mm * ((self.about.stop_mm or e.stop_mm) - e.stop_mm)
            low, high = e.low_mm + moved, e.high_mm + moved
            if not low <= reading.value <= high:
                off = reading.value - (low if reading.value < low else high)
                sentence = (
                    f"{reading.characteristic} reads {reading.value:.3f} mm, {abs(off):.3f} outside the band "
                    f"{low:.3f} to {high:.3f} of this hit."
                )
                remedy = "check seat, stop and hardness, read once more, then ask for the correction"
                yield Finding("caution", sentence, remedy, self.about.subject, "outside-band")


def _word(said: str) -> float | str:
    try:
        return float(said.replace(",", "."))
    except ValueError:
        return said
