"""Papers that the records speak against say so, and what is given out is kept and superseded."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest
from job_maker import DEMO, copied, make_job

from hoopwright.design.demo import demo_liner
from hoopwright.design.liner_reading import read_liner
from hoopwright.desk.paper_gate import give_out, standing_of
from hoopwright.desk.record_book import enter, records
from hoopwright.desk.take_files import take
from hoopwright.desk.tool_book import supersede
from hoopwright.records.judging import Paper


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make_job(tmp_path_factory.mktemp("made") / "job", readings=False)


@pytest.fixture
def job(made: Path, tmp_path: Path) -> Path:
    return copied(made, tmp_path / "job")


def topics(job: Path, name: str = "machine-card") -> list[tuple[str, str]]:
    return [(f.level, f.topic) for f in standing_of(job, demo_liner(), "HD-402", name)]


def test_nothing_stands_against_a_live_set_of_the_revision_in_force(job: Path) -> None:
    assert topics(job) == []


def test_the_press_card_of_a_superseded_set_is_held(job: Path) -> None:
    supersede(job, "HT-402-S", "MD", "worn")
    found = standing_of(job, demo_liner(), "HD-402", "machine-card")
    assert [(f.level, f.topic) for f in found] == [("stop", "tool-superseded")]
    assert topics(job, "roll-pair") == []
    enter(job, "tool", "HT-402-S2", {"liner": "HD-400", "what": "segment set", "serves": "HD-402", "revision": "A",
                                      "state": "in making"}, "TM")  # fmt: skip
    assert topics(job) == [("stop", "tool-not-ready")]
    enter(job, "tool", "HT-402-S2", {"state": "trial"}, "TM")
    assert topics(job) == []


def test_papers_of_a_superseded_revision_say_so(job: Path, tmp_path: Path) -> None:
    file = tmp_path / "liner.toml"
    text = (DEMO / "liner.toml").read_text(encoding="utf-8")
    file.write_text(text.replace('revision = "A"', 'revision = "B"', 1), encoding="utf-8")
    assert standing_of(job, read_liner(file), "HD-402", "roll-pair")[0].topic == "revision-unknown"
    take(job, file, "MD")
    assert standing_of(job, read_liner(file), "HD-402", "roll-pair") == ()
    found = standing_of(job, demo_liner(), "HD-402", "roll-pair")
    assert found[0].level == "stop" and found[0].sentence.startswith("Superseded") and "revision B" in found[0].remedy


def test_what_is_given_out_is_kept_and_superseded_by_the_next(job: Path) -> None:
    liner = demo_liner()
    give_out(job, liner, "HD-402", "machine-card", "aaaa 0001", b"one", "MD")
    give_out(job, liner, "HD-402", "machine-card", "aaaa 0001", b"one", "MD")
    give_out(job, dataclasses.replace(liner, revision="B"), "HD-402", "machine-card", "bbbb 0002", b"two", "MD")
    give_out(job, liner, "HD-403", "machine-card", "cccc 0003", b"three", "MD")
    with records(job) as store:
        kept = [k.thing for k in store.list(Paper)]
    assert [(p.about, p.mark, p.state) for p in kept] == [
        ("HD-402", "aaaa 0001", "superseded"), ("HD-402", "bbbb 0002", "in force"), ("HD-403", "cccc 0003", "in force"),
    ]  # fmt: skip
    assert kept[0].replaced_by == kept[1].id
