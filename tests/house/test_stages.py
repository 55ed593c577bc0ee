"""The stages of a test run: all run, all timed, one failure is enough."""

from __future__ import annotations

import itertools

import pytest

from house import testing
from house.say import Missing
from house.stages import Stage, exit_code, run_stages, summary


def stage(name: str, result: bool) -> Stage:
    return Stage(name, "shown", lambda: result)


def test_all_run_after_a_failure_and_the_summary_says_which(capsys: pytest.CaptureFixture[str]) -> None:
    ticks = itertools.count(0.0, 1.5)
    outcomes = run_stages([stage("one", True), stage("two", False), stage("three", True)], lambda: next(ticks))
    assert [o.passed for o in outcomes] == [True, False, True]
    assert [o.seconds for o in outcomes] == [1.5, 1.5, 1.5]
    text = summary(outcomes)
    assert text.splitlines()[-1] == "  FAILED: two, 4.5 s"
    assert "  two    FAILED      1.5 s" in text
    assert exit_code(outcomes) == 1
    assert "── three: shown" in capsys.readouterr().out


def test_all_passed() -> None:
    outcomes = run_stages([stage("one", True)], lambda: 0.0)
    assert summary(outcomes).splitlines()[-1] == "  everything passed, 0.0 s"
    assert exit_code(outcomes) == 0


def test_no_stage_is_no_success() -> None:
    assert exit_code(()) == 1
    assert "FAILED: no stage was run" in summary(())


def test_a_missing_piece_fails_its_stage_only(capsys: pytest.CaptureFixture[str]) -> None:
    def lacking() -> bool:
        raise Missing("there is no anvil.", "buy one")

    outcomes = run_stages([Stage("one", "x", lacking), stage("two", True)])
    assert [o.passed for o in outcomes] == [False, True]
    assert "there is no anvil.\n  Do: buy one" in capsys.readouterr().out


def test_stages_can_be_chosen_by_name() -> None:
    stages = (stage("one", True), stage("two", True))
    assert testing.choose(stages, []) == stages
    assert [s.name for s in testing.choose(stages, ["two"])] == ["two"]
    with pytest.raises(ValueError, match="no stage is called three; the stages are one, two"):
        testing.choose(stages, ["three"])


def test_every_duty_has_its_stage() -> None:
    names = [s.name for s in testing.test_stages({}, ())]
    assert names == ["lint", "format", "types", "imports", "docs", "examples", "tests", "wheel"]


def test_ci_compiles_the_kernels_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CI", "true")
    monkeypatch.setenv("NUMBA_CACHE_DIR", "old")
    seen: list[str] = []
    assert testing.with_kernel_cache(lambda env: seen.append(env["NUMBA_CACHE_DIR"]) or 0) == 0
    assert seen != ["old"]
    monkeypatch.setenv("CI", "")
    testing.with_kernel_cache(lambda env: seen.append(env["NUMBA_CACHE_DIR"]) or 0)
    assert seen[1] == "old"


def test_two_workers_only_where_there_are_two_cores() -> None:
    assert testing.workers(4) == ("-n", "2", "--dist", "loadfile")
    assert testing.workers(1) == ("-p", "no:xdist")
    assert testing.workers(None) == ("-p", "no:xdist")


def test_the_surroundings_of_a_run_are_kept() -> None:
    env = testing.environment({"A": "1"}, None)
    assert env["A"] == "1"
    assert env["OMP_NUM_THREADS"] == "1"
    assert "NUMBA_CACHE_DIR" not in env
