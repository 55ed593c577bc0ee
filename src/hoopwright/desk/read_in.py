"""Readings into the records, typed or from a table (CSV, TSV, XLSX). Of a faulty file nothing is stored."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hoopwright.cards.alloy import alloy
from hoopwright.desk.in_force import expectations, liner_in_force
from hoopwright.desk.record_book import records, value_from, writer_or_default
from hoopwright.desk.tool_book import refusal
from hoopwright.errors import CardError, InputError
from hoopwright.findings import Finding
from hoopwright.measure.girth import girth_diameter
from hoopwright.measure.kinds import kind
from hoopwright.measure.table import Readings, read_readings_file
from hoopwright.records import Store, Writing
from hoopwright.records.making import Operation, Part, Reading, Tool
from hoopwright.records.material import SourceFile, digest_of
from hoopwright.records.shape import Pairs

OTHER_KINDS = ("loaded", "bead", "mismatch", "height", "load", "profile")
"""Kinds of single numbers that come typed only."""

ROUND_THE_RING = ("roundness", "diameters", "trace")
"""Kinds whose rows belong together: one reading with a series."""

NEAR = 0.06
"""How far a girth may lie off the expected size, as a share, before it is taken for a slip of the pen."""


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


def read_file(address: str | Path | None, what: str, file: Path, about: About, by: str | None) -> ReadIn:
    """Take a table of readings.

    Raises
    ------
    FileFaults
        Every fault with line and column; nothing is stored. InputError: the file was taken before.
    """
    wanted = kind(what)
    with records(address, create=True) as store:
        expected = _expected_range(store, about) if what == "girth" else None
        table = read_readings_file(file, wanted.name, file.name, expected)
        content = file.read_bytes()
        digest = digest_of(content)
        with store.writing(writer_or_default(by), f"read: {file.name}") as write:
            there = write.find(SourceFile, digest)
            if there is not None:
                when = f"{there.entered_at:%Y-%m-%d %H:%M} by {there.entered_by}"
                raise InputError("file", file.name, "", f"new; it was taken {when}", "name the file of new readings")
            place = _Place(store, write, about)
            write.add(SourceFile(id=digest, name=file.name[:255], size_bytes=len(content), holds=what, rows=len(table)))
            made = [place.reading(file=digest, **row) for row in _rows(what, table)]
            return place.stored(what, made, table.notes)


def read_typed(
    address: str | Path | None, what: str, values: Sequence[tuple[str, str]], about: About, by: str | None
) -> ReadIn:
    """Take readings as typed: (place or size, value), decimal commas are fine.

    Raises
    ------
    InputError
        Not a number, or far off what it can be.
    """
    unit = _unit(what)
    if about.replaces and len(values) != 1:
        raise InputError("--replaces", about.replaces, "", "given with one reading", "type the one that corrects it")
    if not values:
        raise InputError("readings", "none", "", "one or more, as lip_od=247.48", "type place=value")
    with records(address, create=True) as store:
        limits = _expected_range(store, about) if what == "girth" else None
        rows = []
        for name, said in values:
            number = value_from("reading", "value", said)
            if number is None:
                raise InputError(name, "empty", unit, "a number", "type the reading")
            if limits is not None:
                low, high = limits["diameter_mm"]
                if not low <= number <= high:
                    must = f"from {low:.1f} to {high:.1f}, near what the plan expects"
                    raise InputError(name, number, unit, must, "look at the tape again; enter it as read")
            rows.append({"what": what, "characteristic": name, "unit": unit, "value": number})
        with store.writing(writer_or_default(by), f"typed: {what}") as write:
            place = _Place(store, write, about)
            return place.stored(what, [place.reading(**row) for row in rows], ())


def _unit(what: str) -> str:
    if what in OTHER_KINDS:
        return "N" if what == "load" else "mm"
    columns = [c for c in kind(what).columns if not c.word]
    if what in ROUND_THE_RING or what == "coordinates":
        raise InputError("kind of reading", what, "", "one that has one number a place", "give it as a file")
    return columns[0].unit


def _expected_range(store: Store, about: About) -> Mapping[str, tuple[float, float]] | None:
    ring = about.ring or _ring_of(store, about)
    sizes = [e.free_mm for e in expectations(store, ring)] if ring else []
    if not sizes:
        return None
    return {"diameter_mm": ((1.0 - NEAR) * min(sizes), (1.0 + NEAR) * max(sizes))}


def _ring_of(store: Store, about: About) -> str:
    part = store.find(Part, about.subject) if about.of == "serial" else None
    return "" if part is None else part.thing.part


def _rows(what: str, table: Readings) -> Iterator[dict[str, Any]]:
    """Rows of a table as fields of readings; kinds that go round a ring make one reading with a series."""
    plain = [c for c in kind(what).columns if not c.word and c.name in table.numbers]
    names = [c.name for c in plain]
    if what in ROUND_THE_RING:
        series = tuple(v for n in range(len(table)) for v in (table.numbers[name][n] for name in names))
        yield {
            "what": what, "characteristic": what, "unit": plain[-1].unit, "series": series,
            "more": (("columns", " ".join(names)),),
        }  # fmt: skip
        return
    word = next(c.name for c in kind(what).columns if c.word)
    for n, line in enumerate(table.lines):
        row: dict[str, Any] = {"what": what, "characteristic": table.words[word][n], "line": line}
        if what == "coordinates":
            series = tuple(table.numbers[name][n] for name in names)
            yield {**row, "unit": "mm", "series": series, "more": (("columns", " ".join(names)),)}
            continue
        row |= {"unit": plain[0].unit, "value": table.numbers[names[0]][n]}
        yield row | {name: table.numbers[name][n] for name in names[1:]}


class _Place:
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
