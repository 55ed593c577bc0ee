"""Formats up and down with data, backup and restore between file and server, and export that harms nobody."""

from __future__ import annotations

import csv
import io
import json
import zipfile
from pathlib import Path

import pytest
import sqlalchemy as sa
from pg_server import Server
from test_store import PART, SET, everything, girth

from hoopwright.errors import InputError, StoreError
from hoopwright.records import Store, open_store
from hoopwright.records.address import address_of, engine_for
from hoopwright.records.archive import backup, restore
from hoopwright.records.export import everything as exported
from hoopwright.records.export import harmless
from hoopwright.records.making import Part, Reading, Tool
from hoopwright.records.schema import NEWEST, move, step_of
from hoopwright.records.tables import TABLES


def filled(address: str | Path, readings: int = 0) -> Store:
    store = open_store(address)
    with store.writing("A. Founder", "taken over") as write:
        for thing in everything():
            write.add(thing)
        write.add_all([girth(id=f"m{n:05}", value=200.0 + n, operation="op1") for n in range(readings)])
    with store.writing("B. Maker") as write:
        # the old set is entered first and refers to the newer one
        new = write.add(Tool(**{name: getattr(SET, name) for name in SET.__slots__} | {"id": "HT-402-S2"}))
        write.change(store.get(Tool, "HT-402-S"), state="superseded", replaced_by=new.id)
    return store


def contents(store: Store) -> dict[str, list[dict[str, object]]]:
    with store.reading() as connection:
        return {
            name: [dict(row) for row in connection.execute(sa.select(table).order_by(table.c.seq)).mappings()]
            for name, table in TABLES.items()
        }


def test_a_format_goes_down_and_up_with_every_row(address: str) -> None:
    """The trap: a batch change of a table with references watched deletes what refers to it, without a word."""
    store = filled(address, readings=500)
    before, journal = contents(store), store.journal(limit=2000)
    store.close()
    where = address_of(address)
    assert move(where, 1) == NEWEST
    engine = engine_for(where)
    with engine.connect() as connection:
        assert step_of(connection) == 1
        look = sa.inspect(connection)
        assert "papers" not in look.get_table_names()
        assert "expanded" not in {c["name"] for c in look.get_columns("readings")}
        assert connection.execute(sa.text("SELECT count(*) FROM readings")).scalar_one() == 501
        assert connection.execute(sa.text("SELECT count(*) FROM operations")).scalar_one() == 1
        assert connection.execute(sa.text("SELECT count(*) FROM journal")).scalar_one() == len(journal)
    engine.dispose()
    again = open_store(address)
    after = contents(again)
    lost = {"expanded": None}
    before["reading"] = [row | lost for row in before["reading"]]
    before["paper"], before["design_change"], before["expectation"] = [], [], []
    assert after == before
    assert again.journal(limit=2000) == journal
    with pytest.raises(StoreError, match="never deleted"), again.writing("X") as write:
        write.connection.execute(sa.delete(TABLES["reading"]))
    with again.writing("C") as write:
        write.add(girth(id="later", expanded=0.04))
    again.close()


def test_an_older_file_is_copied_before_it_is_brought_up(tmp_path: Path) -> None:
    filled(tmp_path).close()
    move(address_of(tmp_path), 1)
    open_store(tmp_path).close()
    kept = list(tmp_path.glob("*.before-format-*.sqlite"))
    assert len(kept) == 1
    engine = engine_for(address_of(kept[0]))
    with engine.connect() as connection:
        assert step_of(connection) == 1
        assert connection.execute(sa.text("SELECT count(*) FROM readings")).scalar_one() == 1
    engine.dispose()


def test_all_the_way_down_leaves_an_empty_database(address: str) -> None:
    filled(address).close()
    move(address_of(address), 0)
    engine = engine_for(address_of(address))
    with engine.connect() as connection:
        assert step_of(connection) == 0
        assert set(sa.inspect(connection).get_table_names()) <= {"hoopwright_step"}
    engine.dispose()


def test_a_newer_format_and_strange_tables_are_left_alone(address: str) -> None:
    filled(address).close()
    engine = engine_for(address_of(address))
    with engine.begin() as connection:
        connection.execute(sa.text(f"UPDATE hoopwright_step SET step = {NEWEST + 1}"))
    with pytest.raises(StoreError, match="newer format"):
        open_store(address)
    with engine.begin() as connection:
        connection.execute(sa.text("DROP TABLE hoopwright_step"))
    with pytest.raises(StoreError, match="none of ours"):
        open_store(address)
    engine.dispose()


def test_a_backup_goes_from_either_to_either(address: str, tmp_path: Path, server: Server) -> None:
    store = filled(address, readings=1500)
    counts = backup(store, tmp_path / "b.zip")
    assert counts["readings"] == 1501 and counts["tools"] == 2
    for place in (tmp_path / "anew", server.new_database()):
        restore(tmp_path / "b.zip", place)
        other = open_store(place)
        assert contents(other) == contents(store)
        assert other.journal(limit=5000) == store.journal(limit=5000)
        with other.writing("C") as write:
            later = write.add(girth(id="later"))
        assert later.seq > max(entry.seq for entry in store.journal(limit=1))
        with pytest.raises(StoreError, match="never deleted"), other.writing("X") as write:
            write.connection.execute(sa.delete(TABLES["tool"]))
        other.close()
        with pytest.raises(StoreError, match="There are records"):
            restore(tmp_path / "b.zip", place)
    with pytest.raises(InputError, match="new file"):
        backup(store, tmp_path / "b.zip")
    store.close()


def test_a_backup_of_an_older_format_is_brought_up(tmp_path: Path) -> None:
    filled(tmp_path / "one").close()
    move(address_of(tmp_path / "one"), 1)
    old = Store(address_of(tmp_path / "one"))
    backup(old, tmp_path / "old.zip")
    old.close()
    restore(tmp_path / "old.zip", tmp_path / "two")
    again = open_store(tmp_path / "two")
    assert again.get(Tool, "HT-402-S").thing.replaced_by == "HT-402-S2"
    assert again.count(Reading) == 1
    again.close()


@pytest.mark.parametrize("how", ["bit", "cut", "no zip", "other zip", "missing"])
def test_a_damaged_backup_is_refused_and_nothing_stands(tmp_path: Path, how: str) -> None:
    store = filled(tmp_path / "one", readings=50)
    file = tmp_path / "b.zip"
    backup(store, file)
    store.close()
    if how == "bit":
        rewritten = {}
        with zipfile.ZipFile(file) as archive:
            rewritten = {name: archive.read(name) for name in archive.namelist()}
        rewritten["readings.jsonl"] = rewritten["readings.jsonl"].replace(b"249.0", b"248.0")
        with zipfile.ZipFile(file, "w") as archive:
            for name, content in rewritten.items():
                archive.writestr(name, content)
    elif how == "cut":
        file.write_bytes(file.read_bytes()[:-400])
    elif how == "no zip":
        file.write_bytes(b"hello")
    elif how == "other zip":
        with zipfile.ZipFile(file, "w") as archive:
            archive.writestr("../../evil.txt", "x")
    else:
        file.unlink()
    with pytest.raises(InputError, match="backup"):
        restore(file, tmp_path / "two")
    assert not (tmp_path / "two" / "records.sqlite").exists()
    assert not (tmp_path.parent / "evil.txt").exists()


@pytest.mark.parametrize("note", ["=1+1", "+cmd|' /C calc'!A0", "-2+3", "@SUM(A1)", " =HYPERLINK(1)"])
def test_no_cell_of_an_export_is_a_formula(tmp_path: Path, note: str) -> None:
    store = open_store(tmp_path)
    with store.writing(note) as write:
        write.add(PART)
        write.add(girth(id="r1", note=note, value=-1.5))
    files = exported(store)
    rows = list(csv.DictReader(io.StringIO(files["readings.csv"].decode("utf-8-sig"))))
    assert rows[0]["note"] == "'" + note and rows[0]["entered_by"] == "'" + note
    assert float(rows[0]["value"]) == -1.5
    for name, content in files.items():
        if name.endswith(".csv"):
            for row in csv.reader(io.StringIO(content.decode("utf-8-sig"))):
                assert not any(cell[:1] in "=+@" for cell in row if cell)
    whole = json.loads(files["records.json"])
    assert whole["readings"][0]["note"] == note and len(whole["journal"]) == 2
    assert store.count(Part) == 1
    store.close()


def test_numbers_in_an_export_are_read_back_to_the_last_bit() -> None:
    assert float(harmless(0.1 + 0.2)) == 0.1 + 0.2 and harmless(None) == "" and harmless(-3) == "-3"
