"""From the reading in the records to what is to be done: stories 5, 6 and 10 and the correction, out of the store."""

from __future__ import annotations

import datetime as dt
import json
from pathlib import Path

import pytest
from job_maker import DEMO, copied, make_job, plan_of

from hoopwright.desk.change import change
from hoopwright.desk.correct import Correction, correct
from hoopwright.desk.diagnose import diagnose_part
from hoopwright.desk.fit import fit, fit_from_stock
from hoopwright.desk.read_in import About, read_typed
from hoopwright.desk.record_book import enter, history, records
from hoopwright.desk.take_files import take
from hoopwright.desk.tool_book import confirm_set, supersede, tool
from hoopwright.errors import InputError
from hoopwright.records.judging import DesignChange, Paper
from hoopwright.records.making import Expectation, Operation, Part, Reading, Tool
from hoopwright.records.material import Coupon, LinerRevision, WeldLot


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration with all its readings."""
    return make_job(tmp_path_factory.mktemp("made") / "job")


@pytest.fixture(scope="module")
def bare(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration without a reading."""
    return make_job(tmp_path_factory.mktemp("bare") / "job", readings=False)


@pytest.fixture
def job(demo: Path, tmp_path: Path) -> Path:
    return copied(demo, tmp_path / "job")


@pytest.fixture
def press(bare: Path, tmp_path: Path) -> Path:
    return copied(bare, tmp_path / "job")


def hit(
    job: Path, serial: str, number: int, lip: float, land: float, cast: str = "X0417", segments: str = "HT-402-S",
    stop: float | None = None,
) -> None:  # fmt: skip
    """Read both sizes of a hit, twice each."""
    with records(job) as store:
        if store.find(Part, serial) is None:
            fields = {"liner": "HD-400", "part": "HD-402", "revision": "A"}
            enter(job, "cast", cast, {"state": "in use"}, "MD")
            enter(job, "part", serial, {**fields, "cast": cast}, "MD")
    typed = [("lip_od", f"{lip}"), ("lip_od", f"{lip}"), ("land_id", f"{land}"), ("land_id", f"{land}")]
    read_typed(job, "girth", typed, About(serial, hit=number, stop_mm=stop, segment_set=segments), "QE")


def test_everything_of_the_demonstration_is_in_the_records(job: Path) -> None:
    with records(job) as store:
        assert store.get(Operation, "402-03.hit-1").thing.tool == "HT-402-S"
        assert {k.thing.what for k in store.list(Reading)} == {
            "girth", "loaded", "thickness", "roundness", "lap", "port-lips",
        }  # fmt: skip
        assert store.count(Coupon, lot="W07") == 6
        assert store.get(WeldLot, "W07").thing.parent_tensile_MPa == (781.0, 776.0, 779.0)
        assert store.get(Part, "402-03").thing.weld_lot == "W07"
        assert store.get(Tool, "HT-403-R").thing.stock_mm == 1.0
        turn = store.list(Reading, what="roundness")[0].thing
        assert (turn.serial, turn.tool, turn.held, len(turn.series)) == ("402-01", "HT-402-S0", "free", 72)
    with pytest.raises(InputError, match=r"it was taken .* by MD"):
        take(job, DEMO / "readings.toml", "QE")


def test_story_5_out_of_the_records(job: Path) -> None:
    found = diagnose_part(job, "402-01", needed_radius_mm=123.395)
    turn = found.turns[0]
    assert dict(turn.left_mm)["1,2,N"] == pytest.approx(0.074, abs=5e-4)
    assert turn.minimum_zone_mm == pytest.approx(0.5509, abs=5e-5)
    assert found.lobes is not None and found.lobes.standing_mm == pytest.approx(1.83, abs=0.01)
    assert {f.topic for f in found.findings} >= {"wrong-segment-set", "tool-superseded"}
    assert found.diagnosis is not None and found.diagnosis.named == "superseded-set"


def test_a_set_that_was_right_when_it_was_used_is_no_fault_of_the_part(press: Path) -> None:
    hit(press, "402-31", 1, 247.40, 246.70)
    supersede(press, "HT-402-S", "MD", "revision B", replaced_by="HT-402-S0")
    found = diagnose_part(press, "402-31")
    assert dict(found.seen)["label"] == 0.0
    assert not [f for f in found.findings if f.topic == "tool-superseded"]


def test_story_6_out_of_the_records(job: Path) -> None:
    found = fit(job)
    assert [(g.joint, round(g.gap_mm, 3), g.word) for g in found.fits.gaps] == [
        ("J1", 0.050, "inside"), ("J2", 0.005, "inside"), ("J3", 0.140, "loose"), ("J4", -0.030, "tight"),
    ]  # fmt: skip
    best = found.fits.choices[0]
    assert {s.ring: round(s.change_mm, 3) for s in best.stretches} == {"HD-402": 0.135, "HD-404": 0.070}
    assert any("no plan in the records" in note for note in found.notes)


def test_laps_from_the_girths_of_serials(job: Path) -> None:
    hit(job, "402-41", 2, 247.52, 246.85)
    about = About("403-41", ring="HD-403")
    read_typed(job, "girth", [("land_id", "247.80"), ("lip_od", "232.86")], about, "QE")
    found = fit(job, ("402-41", "403-41"))
    assert [(g.joint, round(g.gap_mm, 3)) for g in found.fits.gaps] == [("J3", 0.140)]
    with pytest.raises(InputError, match="measured on 401-41"):
        enter(job, "part", "401-41", {"liner": "HD-400", "part": "HD-401", "revision": "A"}, "MD")
        fit(job, ("401-41", "402-41"))


def test_serials_from_the_stock_before_any_stretch(press: Path) -> None:
    def made(serial: str, ring: str, **sizes: float) -> None:
        read_typed(press, "girth", [(n, f"{v}") for n, v in sizes.items()], About(serial, ring=ring), "QE")

    made("402-01", "HD-402", land_id=246.85, lip_od=247.52)
    made("403-01", "HD-403", land_id=247.80, lip_od=232.86)
    alone = fit_from_stock(press)
    assert alone.stacks[0].choice.stretched == 1
    made("402-02", "HD-402", land_id=246.95, lip_od=247.68)
    made("403-02", "HD-403", land_id=247.70, lip_od=232.80)
    made("403-03", "HD-403", lip_od=232.80)
    found = fit_from_stock(press)
    best = found.stacks[0].choice
    assert best.stretched == 0 and best.feasible and set(best.serials) == {"402-02", "403-02"}
    assert found.left_out == (("403-03", "land_id"),)
    two = fit_from_stock(press, liners=2)
    assert sorted(s for stack in two.stacks for s in stack.choice.serials) == ["402-01", "402-02", "403-01", "403-02"]


def test_the_next_hit_brings_both_sizes_home(press: Path) -> None:
    """Both sizes 0.08 short: one stretch moves both alike; the ring's own gain leaves 2 % (two readings a size)."""
    hit(press, "402-51", 2, 247.52, 246.82)
    found = correct(press, "402-51")
    same = found.same_ring
    assert same is not None and found.findings[0].topic == "hardness-asked"
    rate = (247.600 - 247.436) / 0.7
    gain = 0.075**2 / (0.075**2 + 0.015**2 / 2)
    assert same.move_mm == pytest.approx(gain * 0.08 / rate, abs=0.006)
    assert same.stop_mm == pytest.approx(40.70 + same.move_mm)
    assert same.index_deg == 11.25
    assert dict(same.after)["lip_od"] == pytest.approx(247.52 + same.move_mm * rate)
    assert all(
        abs(value - want) < 0.01 for value, want in zip(dict(same.after).values(), (246.90, 247.60), strict=True)
    )


def test_what_contradicts_the_plan_is_not_corrected(press: Path) -> None:
    hit(press, "402-52", 1, 247.10, 246.40)
    found = correct(press, "402-52")
    assert found.same_ring is None and found.next_ring is None
    stop = found.findings[0]
    assert (stop.level, stop.topic) == ("stop", "no-correction")
    assert all(word in stop.remedy for word in ("seat", "stop"))


def test_a_superseded_set_is_never_corrected_from(press: Path) -> None:
    hit(press, "402-53", 2, 247.52, 246.82, segments="HT-402-S0")
    found = correct(press, "402-53")
    assert found.same_ring is None and found.next_ring is None
    assert found.findings[0].topic == "tool-superseded" and "HT-402-S" in found.findings[0].remedy


def test_an_oversize_ring_is_not_shrunk(press: Path) -> None:
    hit(press, "402-54", 2, 247.66, 247.03)
    found = correct(press, "402-54")
    assert found.same_ring is None
    over = [f for f in found.findings if f.topic in ("oversize", "no-correction")]
    assert over and over[0].level == "stop"


def corrected(job: Path, rings: int, error: float) -> Correction:
    for number in range(rings):
        hit(job, f"402-6{number}", 2, 247.60 + error, 246.90 + error)
    return correct(job, f"402-6{rings - 1}")


def test_hardness_of_the_cast_tells_a_wrong_cast_from_a_wrong_stop(press: Path) -> None:
    """A gate on the mean of the stations is shut by either; the hardness of the sheet says which it was."""
    for cast, sheet, hardness in (("X0417", "S-1", 230.0), ("X0500", "S-2", 262.0)):
        enter(press, "cast", cast, {"state": "in use"}, "QE")
        enter(press, "sheet", sheet, {"cast": cast, "thickness_mm": "0.8"}, "QE")
        typed = [(f"p{k}", f"{hardness + k}") for k in range(5)]
        received = read_typed(press, "hardness", typed, About(sheet, of="sheet"), "QE")
        assert [f.topic for f in received.findings] == (["hardness-off"] if cast == "X0500" else [])
    for number in range(3):
        hit(press, f"402-9{number}", 2, 247.60, 246.90)
    hit(press, "402-95", 2, 247.44, 246.74, cast="X0500")
    found = correct(press, "402-95")
    assert not found.ask_hardness
    stop = found.findings[0]
    assert stop.topic == "no-correction" and "cast number" in stop.remedy and "+13." in stop.why


def test_rings_that_agree_move_the_stop_of_the_next(press: Path) -> None:
    found = corrected(press, 3, -0.05)
    ahead = found.next_ring
    assert ahead is not None and ahead.rings == 3 and ahead.cast == "X0417"
    rate = (247.600 - 247.436) / 0.7
    # most of an error that three rings of one cast share is expected of the next one
    assert 0.8 * 0.05 / rate < ahead.stop_mm - 40.70 < 1.0 * 0.05 / rate
    for _, mean, low, high, inside in ahead.stations:
        assert low < mean < high and inside > 0.95
    assert ahead.offers[0].actions in ((), ("stop",)) and ahead.offers[0].suffices
    assert len(found.rests_on) == 2


def test_unknown_casts_are_not_taken_for_one(press: Path) -> None:
    for number, serial in enumerate(("402-71", "402-72")):
        read_typed(
            press, "girth", [("lip_od", "247.56"), ("land_id", "246.86")],
            About(serial, ring="HD-402", hit=2, segment_set="HT-402-S"), "QE",
        )  # fmt: skip
        found = correct(press, serial)
        assert found.next_ring is None or "unknown cast of" in found.next_ring.cast
        assert found.ask_hardness, number


def test_story_10_out_of_the_records_walked_and_taken(job: Path) -> None:
    with records(job) as store, store.writing("MD") as write:
        write.add(Paper(liner="HD-400", revision="A", paper="machine-card", about="HD-403", mark="1234 5678"))
    walked = change(job, DEMO / "changes.toml")
    assert walked.state == "proposed" and walked.done == ()
    rework = {t.tool for t in walked.impact.tools if t.verdict == "rework"}
    assert rework == {"HT-403-R", "HT-404-R", "HT-403-S", "HT-404-S"}
    assert walked.impact.plans[0].date("HT-404-R ready") == dt.date(2031, 3, 18)
    with records(job) as store:
        assert store.get(Tool, "HT-403-S").thing.state == "proven" and store.count(DesignChange) == 0
    with pytest.raises(InputError, match="--why"):
        change(job, DEMO / "changes.toml", taken_by="Chief")
    taken = change(job, DEMO / "changes.toml", taken_by="Chief", reason="slot J4")
    assert taken.state == "taken"
    refused = tool(job, "HT-403-S", "HD-403").refusal
    assert refused is not None and "not ready" in refused.sentence and "revision B" in refused.remedy
    with records(job) as store:
        kept = store.get(DesignChange, "HD-400.B").thing
        assert kept.decided_by == "Chief" and "HT-403-S" in kept.impact
        assert store.list(Paper, about="HD-403")[0].thing.state == "superseded"
        lines = [e for e in store.journal(200) if e.why == "change HD-400.B: slot J4"]
        assert len({e.together for e in lines}) == 1
    with pytest.raises(InputError, match="not taken yet"):
        change(job, DEMO / "changes.toml", taken_by="Chief", reason="again")


def test_finished_serials_of_the_records_are_walked_too(job: Path) -> None:
    enter(job, "part", "403-09", {"liner": "HD-400", "part": "HD-403", "revision": "A", "state": "finished"}, "MD")
    enter(job, "part", "odd7", {"liner": "HD-400", "part": "HD-403", "revision": "A", "state": "finished"}, "MD")
    found = change(job, DEMO / "changes.toml")
    assert ("403-09", "re-stretch") in {(p.serial, p.verdict) for p in found.impact.parts}
    assert found.left == ("odd7",)
    change(job, DEMO / "changes.toml", taken_by="Chief", reason="slot J4")
    with records(job) as store:
        held = store.get(Part, "403-09").thing
    assert held.state == "on hold" and "re-stretch" in held.note


def test_a_new_revision_supersedes_the_old_one_and_its_expectations(job: Path, tmp_path: Path) -> None:
    text = (DEMO / "liner.toml").read_text(encoding="utf-8")
    file = tmp_path / "liner.toml"
    file.write_text(text.replace("thickness_mm = 0.8\n", "thickness_mm = 0.81\n", 1), encoding="utf-8")
    with pytest.raises(InputError, match="new revision letter"):
        take(job, file, "MD")
    file.write_text(text.replace('revision = "A"', 'revision = "B"', 1), encoding="utf-8")
    said = " ".join(take(job, file, "MD").said)
    assert "revision B is in force" in said and "revision A is superseded" in said
    with records(job) as store:
        assert [k.thing.state for k in store.list(LinerRevision)] == ["superseded", "in force"]
        assert store.count(Expectation, state="in force") == 0
    assert "already" in " ".join(take(job, file, "MD").said)


def test_a_newer_plan_supersedes_the_older(press: Path, tmp_path: Path) -> None:
    file = tmp_path / "plan.json"
    file.write_text(json.dumps(plan_of("9999 0000", 0.01)), encoding="utf-8")
    said = take(press, file, "MD").said
    assert said[1] == "4 of an older plan are superseded"
    with records(press) as store:
        live = store.list(Expectation, state="in force")
        assert len(live) == 4 and {k.thing.mark for k in live} == {"9999 0000"}
        lip = next(k.thing for k in live if k.thing.control == "lip_od" and k.thing.hit == 2)
    assert lip.free_mm == pytest.approx(247.61) and lip.girth_per_mm == pytest.approx((248.199 - 248.032) / 0.7)


def test_the_press_asks_before_a_hit(job: Path) -> None:
    assert confirm_set(job, "HT-402-S", "402-03") is None
    for wrong, topic in (("HT-402-S0", "tool-superseded"), ("HT-403-S", "tool-of-another-ring")):
        refused = confirm_set(job, wrong, "402-03")
        assert refused is not None and refused.topic == topic and "HT-402-S" in refused.remedy
    with pytest.raises(InputError, match="near"):
        confirm_set(job, "HT-402-X", "402-03")


def test_hits_are_counted_once_a_hit(press: Path) -> None:
    with records(press) as store:
        before = store.get(Tool, "HT-402-S").thing.hits
    hit(press, "402-81", 1, 247.40, 246.70)
    hit(press, "402-81", 1, 247.40, 246.70)
    hit(press, "402-81", 2, 247.60, 246.90)
    with records(press) as store:
        assert store.get(Tool, "HT-402-S").thing.hits == before + 2
    assert [e.body["hits"] for e in history(press, "tool", "HT-402-S")] == [before, before + 1, before + 2]
