"""Saying what is in the records: one record, a list, its history, files taken, readings, the register, copies."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from hoopwright.cli import exits
from hoopwright.cli.options import pairs_of
from hoopwright.cli.show import finding_lines, say, say_json
from hoopwright.desk import record_book
from hoopwright.errors import InputError

if TYPE_CHECKING:
    from hoopwright.desk.read_in import About

TABLE_ENDINGS = (".csv", ".tsv", ".txt", ".xlsx")


def record(
    address: str | None, kind: str, identity: str | None, words: Sequence[str], by: str | None, why: str,
    version: int | None, as_json: bool,
) -> int:  # fmt: skip
    """Enter, change, show or list records; without a kind the kinds, without an identity the fields."""
    if kind == "list":
        return _lines(record_book.kinds(), as_json)
    if identity is None:
        return _fields(kind, as_json)
    given = pairs_of(words, f"{kind} field")
    if identity == "list":
        shown = record_book.listed(address, kind, where=given)
        if as_json:
            say_json(shown)
            return exits.DONE
        for one in shown:
            say(f"{one.id}  {_short(one.fields)}")
        say(f"{len(shown)} shown, newest first")
        return exits.DONE
    if given:
        made = record_book.enter(address, kind, "" if identity == "new" else identity, given, by, why, version)
    else:
        made = record_book.look(address, kind, identity)
    if as_json:
        say_json(made)
        return exits.DONE
    say(f"{made.kind.replace('_', ' ')} {made.id}, version {made.version}, by {made.changed_by}, {made.changed_at}")
    for name, value in made.fields.items():
        if value not in (None, "", [], ()) and name != "id":
            say(f"  {name}: {_cut(value)}")
    return exits.DONE


def _cut(value: object) -> str:
    text = str(value)
    return text if len(text) <= 160 else text[:157] + "..."


def _short(fields: Mapping[str, object]) -> str:
    return ", ".join(f"{k} {_cut(v)}" for k, v in fields.items() if v not in (None, "", [], ()) and k != "id")[:160]


def _lines(lines: Sequence[str], as_json: bool) -> int:
    if as_json:
        say_json(list(lines))
    else:
        for line in lines:
            say(line)
    return exits.DONE


def _fields(kind: str, as_json: bool) -> int:
    fields = record_book.fields_of(kind)
    if as_json:
        say_json(fields)
        return exits.DONE
    say(f"fields of {kind}, those that must be given first:")
    for field in fields:
        words = f", one of {', '.join(w for w in field.words if w)}" if field.words else ""
        refers = f", a {field.refers.replace('_', ' ')} in the records" if field.refers else ""
        unit = f" [{field.unit}]" if field.unit else ""
        say(f"  {field.name}{unit}: {field.kind}{words}{refers}{', must be given' if field.needed else ''}")
    return exits.DONE


def history(address: str | None, kind: str | None, identity: str | None, limit: int, as_json: bool) -> int:
    """The journal of one record, or of everything, newest first."""
    if kind is not None and identity is None:
        raise InputError("identity", "not given", "", "the number of a record", "name it, or leave the kind out too")
    if kind is not None and identity is not None:
        entries = record_book.history(address, kind, identity)
    else:
        entries = record_book.trail(address, limit)
    if as_json:
        say_json(entries)
        return exits.DONE
    before: dict[tuple[str, str], Mapping[str, object]] = {}
    for entry in entries if kind is not None else reversed(entries):
        old = before.get((entry.kind, entry.record), {})
        changed = ", ".join(f"{k} {_cut(v)}" for k, v in entry.body.items() if old and old.get(k) != v)
        what = f"{entry.kind.replace('_', ' ')} {entry.record} version {entry.version}"
        say(f"{entry.at:%Y-%m-%d %H:%M:%S} {entry.by}: {entry.act} {what}" + (f": {changed}" if changed else ""))
        if entry.why:
            say(f"    {entry.why}")
        before[entry.kind, entry.record] = entry.body
    return exits.DONE


def take(address: str | None, files: Sequence[Path], by: str | None, why: str, as_json: bool) -> int:
    """Take files of the house, in the order given."""
    from hoopwright.desk import take_files

    taken = [take_files.take(address, file, by, why) for file in files]
    if as_json:
        say_json(taken)
        return exits.DONE
    for one in taken:
        say(f"{one.file} ({one.holds}): {'; '.join(one.said)}")
    return exits.DONE


def read(address: str | None, what: str, about: About, words: Sequence[str], by: str | None, as_json: bool) -> int:
    """Take readings, typed or from one table."""
    from hoopwright.desk import read_in

    files = [Path(word) for word in words if "=" not in word or word.lower().endswith(TABLE_ENDINGS)]
    if files and len(words) > 1:
        raise InputError(
            "readings", " ".join(words)[:60], "", "one table, or place=value words", "give one or the other"
        )
    if files:
        found = read_in.read_file(address, what, files[0], about, by)
    else:
        found = read_in.read_typed(address, what, _values(words), about, by)
    stops = any(f.level == "stop" for f in found.findings)
    if as_json:
        say_json(found)
        return exits.STOPPED if stops else exits.DONE
    say(f"{len(found.ids)} readings of {found.subject} are in the records ({found.what})")
    for place, value, expanded, unit in found.sizes:
        doubt = f" ± {expanded:.3f}" if expanded is not None else ""
        say(f"  {place}: {value:.3f}{doubt} {unit}".rstrip())
    for note in found.notes:
        say(f"  note: {note}")
    for line in finding_lines(found.findings):
        say(line)
    return exits.STOPPED if stops else exits.DONE


def _values(words: Sequence[str]) -> list[tuple[str, str]]:
    """place=value words; a place may come more than once, as it is read twice."""
    return [next(iter(pairs_of([word], "reading").items())) for word in words]


def register(
    address: str | None, tool: str | None, ring: str, live: bool, superseded: bool, replaced_by: str, by: str | None,
    why: str, as_json: bool,
) -> int:  # fmt: skip
    """The tool register, one tool, or one tool marked superseded."""
    from hoopwright.desk import tool_book

    if tool is None:
        shown = tool_book.register(address, live)
        if as_json:
            say_json(shown)
            return exits.DONE
        for one in shown:
            t = one.tool
            place = f", {t.place}" if t.place else ""
            stock = f", stock {t.stock_mm:g} mm" if t.stock_mm is not None else ""
            say(f"{t.id:12} {t.what:16} {t.serves:10} rev {t.revision}  {t.state}, {t.hits} hits{stock}{place}")
        return exits.DONE
    if superseded:
        found = tool_book.supersede(address, tool, by, why, replaced_by)
    else:
        found = tool_book.tool(address, tool, ring)
    refused = found.refusal is not None and not superseded
    if as_json:
        say_json(found)
        return exits.STOPPED if refused else exits.DONE
    t = found.tool
    say(f"{t.id}: {t.what} for {t.serves}, revision {t.revision}, {t.state}, {t.hits} hits, version {found.version}")
    for name, value in (("place", t.place), ("stock left, mm", t.stock_mm), ("stage", t.stage), ("note", t.note)):
        if value not in ("", None):
            say(f"  {name}: {value}")
    for setting, said in t.settings:
        say(f"  {setting}: {said}")
    if found.serials:
        say(f"  used on: {', '.join(found.serials)}")
    for line in finding_lines([found.refusal] if found.refusal is not None else []):
        say(line)
    return exits.STOPPED if refused else exits.DONE


def findings(
    address: str | None, about: str, answered: str, said: tuple[str, str, str], by: str | None, as_json: bool
) -> int:
    """Findings that stand open, or one answered."""
    from hoopwright.desk import findings_kept

    if answered:
        verdict, why, office = said
        number = findings_kept.answer(address, answered, verdict, why, office, by)
        return _lines([f"answered by decision {number}"], as_json)
    found = findings_kept.open_ones(address, about)
    code = exits.STOPPED if any(f.level == "stop" for f in found) else exits.DONE
    if as_json:
        say_json(found)
        return code
    for one in found:
        say(f"{one.level}: {one.about}: {one.sentence}")
        say(f"    Do: {one.remedy}. Number {one.id}, by {one.entered_by}")
    say(f"{len(found)} open")
    return code


def copies(address: str | None, act: str, place: Path, as_json: bool) -> int:
    """Backup, restore or export."""
    if act == "export":
        files = record_book.export_all(address, place)
        if as_json:
            say_json(files)
        else:
            for file in files:
                say(f"{file}")
        return exits.DONE
    counts = record_book.back_up(address, place) if act == "backup" else record_book.put_back(place, address)
    if as_json:
        say_json(counts)
        return exits.DONE
    for name, rows in counts.items():
        if rows:
            say(f"  {name.replace('_', ' ')}: {rows}")
    say(f"{sum(counts.values())} rows {'written to' if act == 'backup' else 'put back from'} {place}")
    return exits.DONE
