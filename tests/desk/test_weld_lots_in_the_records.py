"""Weld lots from the readings file into the records, judged there, and back into the seam card that a plan takes."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from hoopwright.cards.shop import house_limits
from hoopwright.design.demo import demo_liner, demo_text
from hoopwright.design.readings import read_readings
from hoopwright.desk.take_readings import take_readings
from hoopwright.desk.weld_records import lot_in, lots_of, weld_learn, weld_lot_recorded
from hoopwright.errors import InputError
from hoopwright.plan.job import ring_job
from hoopwright.plan.seam.learning import learn_seam
from hoopwright.plan.shelf import Shelf
from hoopwright.records import Store, open_store
from hoopwright.records.judging import KeptFinding
from hoopwright.records.material import Cast, Coupon, WeldLot

DAY = dt.date(2031, 3, 1)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    made = open_store(tmp_path / "records.sqlite")
    file = tmp_path / "readings.toml"
    file.write_text(demo_text("readings.toml"), encoding="utf-8")
    with made.writing("tester") as write:
        take_readings(made, write, file, None)
    yield made
    made.close()


def judged(store: Store, **more: object) -> str:
    file = store.address.file
    return weld_lot_recorded(file, "W07", 0.8, 764.01, "demo-house", None, None, DAY, **more).sentence  # type: ignore[arg-type]


def test_a_lot_comes_back_as_it_was_read(store: Store) -> None:
    read = read_readings(demo_text("readings.toml"), "readings.toml").weld_lots[0]
    kept, again = lot_in(store, "W07")
    assert kept.coupons == read.coupons and kept.parent_tensile_MPa == read.parent_tensile_MPa
    assert sorted(kept.rings, key=lambda r: r.serial) == sorted(read.rings, key=lambda r: r.serial)
    assert again == ()
    with pytest.raises(InputError, match="W07"):
        lot_in(store, "W70")


def test_a_stop_is_entered_once_and_a_pass_is_left_to_a_signatory(store: Store) -> None:
    assert "not released" in judged(store, enter=True, by="inspector")
    assert store.get(WeldLot, "W07").thing.state == "not released"
    kept = store.list(KeptFinding, about="lot/W07")
    assert any("Weld lot W07 is not released." in f.thing.sentence for f in kept)
    judged(store, enter=True, by="inspector")
    assert store.count(KeptFinding, about="lot/W07") == len(kept)
    assert store.history(WeldLot, "W07")[-1].by == "inspector"


def test_coupons_that_stand_in_for_another_are_the_retest(store: Store) -> None:
    with store.writing("tester") as write:
        for name, strength in (("W07-7", 770.0), ("W07-8", 768.0)):
            write.add(
                Coupon(id=name, lot="W07", tensile_MPa=strength, mismatch_mm=0.05, underfill_mm=0.02, replaces="W07-3")
            )
    assert "released after its one retest" in judged(store, enter=True, by="inspector")
    # computed as released: the state is changed by no computation
    assert store.get(WeldLot, "W07").thing.state == "open"


def test_lots_teach_the_seam_card_and_the_next_plan(store: Store, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="card is N06002"):
        weld_learn(store.address.file, "N06002", 0.8, None, "demo-house", None, None)
    with store.writing("tester") as write:
        cast = lot_in(store, "W07")[0].sheet_cast
        seen = write.find(Cast, cast)
        assert seen is not None
        write.change(seen, card="N06002")
    found = weld_learn(store.address.file, "N06002", 0.8, None, "demo-house", None, tmp_path / "cards")
    assert found.sentence.startswith("1 lot, 3 rings, 6 coupons")
    by = {figure.identity.rpartition("/")[2]: figure.value for figure in found.figures}
    # readings 0.15, 0.16, 0.12 with the prior 0.12 +/- 0.03; tape 0.03 and 8 % ring to ring
    assert by["shrinkage"] == pytest.approx(0.137, abs=1e-3)
    assert by["mismatch"] == pytest.approx(0.06)
    assert by["strength-ratio"] == pytest.approx(0.978, abs=1e-3)
    job = ring_job(demo_liner(), "HD-402", Shelf(tmp_path / "cards"))
    assert job.limits.weld_shrink_mm.value == pytest.approx(by["shrinkage"], abs=1e-4)
    assert job.limits.weld_shrink_mm.source.basis == "measured" and not job.limits.weld_shrink_mm.source.invented
    assert job.seam.strength_ratio is not None and job.seam.mismatch_mm is not None


def test_more_rings_narrow_it_and_a_move_is_said() -> None:
    read = read_readings(demo_text("readings.toml"), "readings.toml").weld_lots[0]
    house = house_limits("demo-house")

    def moved(lot_name: str, by: float) -> object:
        from dataclasses import replace

        rings = tuple(replace(r, circumference_after_weld_mm=r.circumference_after_weld_mm - by) for r in read.rings)
        return replace(read, lot=lot_name, rings=rings)

    one = learn_seam("X", [read], 0.8, house)
    two = learn_seam("X", [read, moved("W08", 0.0)], 0.8, house)  # type: ignore[list-item]
    assert one.shrinkage is not None and two.shrinkage is not None and one.strength is not None
    assert two.strength is not None
    assert two.shrinkage.sd < one.shrinkage.sd and two.strength[1] < one.strength[1] and two.findings == ()
    off = learn_seam("X", [read, moved("W08", 0.15)], 0.8, house)  # type: ignore[list-item]
    assert off.findings[0].topic == "seam-moved" and "+0.150 mm" in off.findings[0].sentence
    with pytest.raises(InputError, match="one or more"):
        learn_seam("X", [], 0.8, house)


def test_lots_of_one_procedure(store: Store) -> None:
    cast = lot_in(store, "W07")[0].sheet_cast
    with store.writing("tester") as write:
        seen = write.find(Cast, cast)
        assert seen is not None
        write.change(seen, card="N06002")
        write.add(WeldLot(id="W09", cast=cast, procedure="WP-2", parent_tensile_MPa=(770.0, 772.0)))
    assert [lot.lot for lot in lots_of(store, "N06002")] == ["W07", "W09"]
    assert [lot.lot for lot in lots_of(store, "N06002", "WP-2")] == ["W09"]
