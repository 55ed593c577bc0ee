"""Records are kept as they were given, changed only by who saw them last, and never lost; on a file and a server."""

from __future__ import annotations

import datetime as dt
from concurrent.futures import ThreadPoolExecutor

import pytest
import sqlalchemy as sa

from hoopwright.errors import InputError, Overtaken, StoreError
from hoopwright.records import Store, open_store
from hoopwright.records.judging import Concession, Decision, DesignChange, KeptFinding, Paper, Release
from hoopwright.records.making import Build, Expectation, Operation, Part, Reading, Tool
from hoopwright.records.material import Cast, Coupon, LinerRevision, Sheet, SourceFile, WeldLot, digest_of
from hoopwright.records.shape import Shape
from hoopwright.records.tables import JOURNAL, METADATA, SHAPES, TABLES, from_plain

SET = Tool(
    id="HT-402-S", liner="HD-400", what="segment set", serves="HD-402", revision="A", state="proven", hits=4,
    stock_mm=0.6, place="shelf 3, bay 2", settings=(("pin_stop_mm", 44.8), ("film", "0.05 polymer")),
)  # fmt: skip
PART = Part(id="402-03", liner="HD-400", part="HD-402", revision="A")
AT = dt.datetime(2031, 3, 1, 8, 30, 0, 123456, tzinfo=dt.timezone(dt.timedelta(hours=1)))


def girth(**more: object) -> Reading:
    given = {
        "liner": "HD-400", "what": "girth", "characteristic": "lip_od", "unit": "mm", "value": 247.48,
        "expanded": 0.036, "serial": "402-03", "taken_by": "Inspector", "taken_at": AT,
    }  # fmt: skip
    return Reading(**{**given, **more})


def everything() -> list[Shape]:
    """One record of every kind, with every field away from its default where that is possible."""
    content = "schema = 'a'\nµ = \"⌀ 247.60\"\n"
    return [
        LinerRevision(id=digest_of(content), liner="HD-400", revision="A", content=content, mark="7c1e 90b4",
                      state="in force", note="first"),
        Cast(id="X0417", card="n06002", certificate="C 12/7", state="on hold", note="soft?"),
        Sheet(id="S-11", cast="X0417", thickness_mm=0.8, width_mm=1219.0, length_mm=2438.0, state="accepted"),
        WeldLot(id="W07", cast="X0417", procedure="WP-2", parent_tensile_MPa=(778.0, 779.4), state="not released"),
        Coupon(id="W07-3", lot="W07", tensile_MPa=731.0, mismatch_mm=0.13, underfill_mm=0.0, fracture="weld"),
        SourceFile(id=digest_of(b"x"), name="readings of 402-03.csv", size_bytes=1, holds="girth", rows=1),
        SET,
        Build(id="B-1", liner="HD-400", revision="A", note="rig"),
        Part(id="402-03", liner="HD-400", part="HD-402", revision="A", sheet="S-11", cast="X0417", weld_lot="W07",
             build="B-1", place="HD-402"),
        Operation(id="op1", serial="402-03", step="sizing hit 1", tool="HT-402-S", done_by="MD", done_at=AT,
                  settings=(("pin_stop_mm", 44.8),)),
        girth(id="r1", series=(0.1, -0.2), more=(("step_deg", 10.0),), gauge="tape 4", part_degC=21.5, tension_N=20.0,
              held="free", held_how="on a plate", operation="op1", file=digest_of(b"x"), line=7, note="twice"),
        KeptFinding(id="f1", liner="HD-400", level="stop", sentence="It is out.", remedy="look", about="402-03",
                    topic="size"),
        Decision(id="d1", liner="HD-400", about="402-03", verdict="hit again", reason="0.12 low", decided_by="MD",
                 office="manufacturing", findings=("f1",), decided_at=AT),
        Concession(id="C-1", liner="HD-400", serial="402-03", characteristic="lip_od", unit="mm", measured=247.75,
                   low=247.5, high=247.7, effect="J3 tight", asked_by="QE", state="granted", signed_by="DA",
                   office="design", expires=dt.date(2031, 6, 30)),
        Release(id="R-1", liner="HD-400", about_kind="part", about="402-03", reason="first ring", extent="partial",
                signed_by="QE", office="quality", signed_at=AT, statement="test only"),
        Paper(id="p1", liner="HD-400", revision="A", paper="machine-card", about="HD-402", mark="7c1e 90b4",
              digest=digest_of(b"%PDF"), issued_at=AT, note="press"),
        DesignChange(id="HD-400.B", liner="HD-400", revision="B", words="lip +0.4", state="taken", decided_by="MD",
                     old=digest_of(content), impact="{}", reason="gap"),
        Expectation(id="e1", liner="HD-400", revision="A", part="HD-402", mark="2c09 a168", hit=2, control="lip_od",
                    stop_mm=40.7, loaded_mm=248.199, free_mm=247.6, low_mm=247.54, high_mm=247.66, segments=8,
                    girth_per_mm=0.2394, free_per_mm=0.2346, across_per_mm=0.2456),
    ]  # fmt: skip


def test_every_kind_comes_back_as_it_was(store: Store, address: str) -> None:
    things = everything()
    assert {type(thing) for thing in things} == set(SHAPES)
    with store.writing("A. Founder", "taken over") as write:
        for thing in things:
            write.add(thing)
    other = open_store(address)
    for thing in things:
        kept = other.get(type(thing), thing.id)
        assert kept.thing == thing and kept.version == 1 and kept.entered_by == "A. Founder"
    other.close()


def test_the_journal_tells_everything_again(store: Store) -> None:
    with store.writing("A. Founder", "taken over") as write:
        for thing in everything():
            write.add(thing)
    with store.writing("B. Maker", "worn edge") as write:
        write.change(store.get(Tool, "HT-402-S"), state="worn", hits=5)
    told: dict[tuple[str, str], Shape] = {}
    for entry in reversed(store.journal()):
        shape = next(s for s in SHAPES if s.kind == entry.kind)
        told[entry.kind, entry.record] = from_plain(shape, entry.body)
    for (kind, identity), thing in told.items():
        assert store.get(next(s for s in SHAPES if s.kind == kind), identity).thing == thing
    lines = store.history(Tool, "HT-402-S")
    assert [(e.act, e.by, e.why, e.body["hits"]) for e in lines] == [
        ("add", "A. Founder", "taken over", 4), ("change", "B. Maker", "worn edge", 5),
    ]  # fmt: skip
    assert len({entry.together for entry in store.journal()}) == 2


def test_a_change_of_what_someone_else_changed_is_refused(store: Store) -> None:
    with store.writing("A") as write:
        seen = write.add(SET)
    with store.writing("B. Maker") as write:
        newer = write.change(seen, place="press 2", hits=9)
    with pytest.raises(Overtaken) as caught, store.writing("C") as write:
        write.change(seen, state="worn")
    said = str(caught.value)
    assert "tool HT-402-S was changed by B. Maker" in said and "version 2, yours was 1" in said
    assert "place: shelf 3, bay 2 -> press 2; hits: 4 -> 9" in said
    assert store.get(Tool, "HT-402-S").thing == newer.thing


def test_a_transaction_is_written_whole_or_not_at_all(store: Store) -> None:
    with pytest.raises(InputError), store.writing("A") as write:
        write.add(PART)
        write.add(girth(id="r1"))
        write.add(girth(serial="402-99"))
    assert store.count(Part) == 0 and store.count(Reading) == 0 and store.journal() == ()


def test_a_taken_number_and_a_missing_reference_are_named(store: Store) -> None:
    with store.writing("A. Founder") as write:
        write.add(PART)
    with (
        pytest.raises(InputError, match=r"part.id is 402-03; .*taken \(entered by A. Founder"),
        store.writing("B") as w,
    ):
        w.add(Part(id="402-03", liner="HD-400", part="HD-402", revision="B"))
    with (
        pytest.raises(InputError, match=r"reading\.tool is HT-1; it must be a tool in the records"),
        store.writing("B") as w,
    ):
        w.add(girth(tool="HT-1"))
    with pytest.raises(InputError, match=r"operation\.serial is 402-9; it must be a part"), store.writing("B") as w:
        w.add_all([Operation(serial="402-9", step="roll", done_by="TM")])
    with pytest.raises(InputError, match=r"near: 402-03"):
        store.get(Part, "402-30")


def test_sent_twice_is_kept_once(store: Store) -> None:
    one = girth(id="tablet-7-0001")
    with store.writing("A") as write:
        write.add(PART)
    for _ in range(2):
        with store.writing("tablet 7") as write:
            assert write.add(one, again_ok=True).version == 1
    assert store.count(Reading) == 1 and len(store.history(Reading, "tablet-7-0001")) == 1
    with pytest.raises(InputError, match="taken"), store.writing("tablet 7") as write:
        write.add(girth(id="tablet-7-0001", value=247.0), again_ok=True)


def test_a_reading_that_corrects_another_supersedes_it(store: Store) -> None:
    with store.writing("A") as write:
        write.add(PART)
        write.add_all([girth(id="r1"), girth(id="r2")])
    with store.writing("B", "read on the wrong line") as write:
        write.add(girth(id="r3", value=247.52, replaces="r1"))
        write.add_all([girth(id="r4", value=247.53, replaces="r2")])
    assert [k.id for k in store.list(Reading, standing="stands")] == ["r3", "r4"]
    assert [(e.by, e.body["standing"]) for e in store.history(Reading, "r1")] == [("A", "stands"), ("B", "superseded")]
    with pytest.raises(InputError, match=r"reading\.replaces is r9"), store.writing("B") as write:
        write.add(girth(id="r5", replaces="r9"))


def test_programs_that_make_the_same_records_at_once(address: str) -> None:
    with ThreadPoolExecutor(6) as crowd:
        stores = list(crowd.map(lambda _: open_store(address), range(6)))
    with stores[0].writing("A") as write:
        write.add(PART)
    assert [one.count(Part) for one in stores] == [1] * 6
    for one in stores:
        one.close()


def test_many_at_once_stay_in_order_and_page(store: Store) -> None:
    with store.writing("A") as write:
        write.add(PART)
        write.add_all([girth(id=f"r{n:04}", value=float(n)) for n in range(250)])
    page = store.list(Reading, limit=100, newest_first=True, serial="402-03")
    rest = store.list(Reading, limit=200, before=page[-1].seq)
    assert [k.thing.value for k in (*page, *rest)] == [float(n) for n in reversed(range(250))]
    assert store.count(Reading, serial="402-03") == 250 and store.count(Reading, serial="402-04") == 0
    assert [k.id for k in store.list(Reading, id=("r0007", "r0003"))] == ["r0003", "r0007"]
    with pytest.raises(InputError, match="there once"), store.writing("A") as write:
        write.add_all([girth(id="x"), girth(id="x")])
    with pytest.raises(InputError, match="taken"), store.writing("A") as write:
        write.add_all([girth(id="y"), girth(id="r0003")])
    with pytest.raises(InputError, match="field is colour"):
        store.list(Reading, colour="red")


def test_the_database_itself_refuses_to_forget(store: Store) -> None:
    with store.writing("A") as write:
        write.add(PART)
        write.add(girth())
    for statement in (
        sa.delete(TABLES["reading"]), sa.delete(TABLES["part"]), sa.delete(JOURNAL), sa.update(JOURNAL).values(by="X"),
    ):  # fmt: skip
        with pytest.raises(StoreError, match="never deleted"), store.writing("X") as write:
            write.connection.execute(statement)
    assert store.count(Reading) == 1 and len(store.journal()) == 2


def test_tables_are_as_the_steps_make_them(store: Store) -> None:
    """The shapes in the program and the tables that the steps build have the same columns, keys and indexes."""
    look = sa.inspect(store.engine)
    assert set(look.get_table_names()) - {"hoopwright_step"} == set(METADATA.tables)
    for name, table in METADATA.tables.items():
        there = {column["name"]: column for column in look.get_columns(name)}
        assert set(there) == {column.name for column in table.columns}, name
        for column in table.columns:
            assert there[column.name]["nullable"] == column.nullable, (name, column.name)
        keys = {(k["constrained_columns"][0], k["referred_table"]) for k in look.get_foreign_keys(name)}
        assert keys == {(k.parent.name, k.column.table.name) for k in table.foreign_keys}, name
        indexed = {
            index["column_names"][0] for index in look.get_indexes(name) if not index.get("duplicates_constraint")
        }
        assert indexed == {i.columns[0].name for i in table.indexes}, name


def test_floats_come_back_to_the_last_bit(store: Store) -> None:
    values = (0.1 + 0.2, 1e-300, -7.5e-9, 247.60000000000002, 1 / 3)
    with store.writing("A") as write:
        write.add(PART)
        for n, value in enumerate(values):
            write.add(girth(id=f"r{n}", value=value, series=values))
    for n, value in enumerate(values):
        kept = store.get(Reading, f"r{n}").thing
        assert kept.value is not None and kept.value.hex() == value.hex()
        assert [v.hex() for v in kept.series] == [v.hex() for v in values]
