"""The command `weld` as a person runs it: answers, exit codes, refusals."""

from __future__ import annotations

import json
from pathlib import Path

from typer.testing import CliRunner, Result

from hoopwright.cli import exits
from hoopwright.cli.main import app
from hoopwright.design.demo import demo_text

RUNNER = CliRunner()


def run(*words: str | Path) -> Result:
    result = RUNNER.invoke(app, ["weld", *(str(word) for word in words)], catch_exceptions=False)
    assert "Traceback" not in result.output
    return result


SHEET = ("--material", "N06625", "--thickness", "0.8")


def test_setting_with_and_without_sense() -> None:
    shown = run("setting", "--power", "600", "--speed", "40", *SHEET)
    assert shown.exit_code == exits.DONE and "Laser of class 4" in shown.output
    as_data = json.loads(run("setting", "--power", "600", "--speed", "40", *SHEET, "--json").output)
    assert any(f["identity"] == "seam/weld/face-width" for f in as_data["figures"])
    refused = run("setting", "--power", "60000", "--speed", "40", *SHEET)
    assert refused.exit_code == exits.BAD_INPUT and "what machine demo-laser can be set to" in refused.output


def test_sections_teach_setting_and_trials(tmp_path: Path) -> None:
    sections = tmp_path / "sections.csv"
    rows = ("450,30,0.3,0.95,0.62", "500,40,0.3,0.88,0.58", "600,50,0.3,0.88,0.60", "260,40,0.3,0.66,-0.10")
    sections.write_text(
        "\n".join(["power_W,speed_mm_per_s,spot_dia_mm,face_mm,root_mm", *rows]) + "\n", encoding="utf-8"
    )
    shown = run("setting", "--power", "600", "--speed", "40", *SHEET, "--sections", sections)
    assert "keyhole absorptivity, learnt" in shown.output
    assert run("trials", *SHEET, "--sections", sections).exit_code == exits.DONE
    assert run("trials", *SHEET, "--sections", tmp_path / "none.csv").exit_code == exits.BAD_INPUT


def test_rings_teach_shrinkage_and_angle(tmp_path: Path) -> None:
    shown = run("setting", "--power", "600", "--speed", "40", *SHEET, "--shrinkages", "0.06,0.055", "--angles", "0.8")
    assert shown.exit_code == exits.DONE and "shrinkage across the seam" in shown.output
    trace = tmp_path / "trace.csv"
    rows = [f"{5 * k},{0.3 * (abs(36 - k) / 36 - 0.5):.4f}" for k in range(72)]
    trace.write_text("\n".join(["theta_deg,deviation_mm", *rows]) + "\n", encoding="utf-8")
    read = run("angle", trace, "--radius", "124", *SHEET, "--out", tmp_path / "a")
    assert read.exit_code == exits.DONE and "at its seam" in read.output
    assert (tmp_path / "a" / "seam-N06625-0.80.toml").exists()
    assert run("angle", trace, "--radius", "0", *SHEET).exit_code == exits.BAD_INPUT
    bad = run("setting", "--power", "600", "--speed", "40", *SHEET, "--angles", "-0.8")
    assert bad.exit_code == exits.BAD_INPUT


def test_a_stretch_that_asks_too_much_of_the_seam_stops() -> None:
    worked = ("setting", "--power", "600", "--speed", "40", "--material", "N06002", "--thickness", "0.8")
    assert run(*worked, "--strip-strain", "0.03", "--stretch", "0.015").exit_code == exits.DONE
    stopped = run(*worked, "--strip-strain", "0.10", "--stretch", "0.03")
    assert stopped.exit_code == exits.STOPPED and "The seam takes" in stopped.output


def test_lot_is_held_and_says_so() -> None:
    shown = run("lot", "W07", "--thickness", "0.8", "--cut-length", "764.01")
    assert shown.exit_code == exits.STOPPED
    assert "Weld lot W07 is not released." in shown.output and "764.03" in shown.output
    assert run("lot", "W99", "--thickness", "0.8").exit_code == exits.BAD_INPUT


def test_trials_start_with_eight(tmp_path: Path) -> None:
    shown = run("trials", *SHEET, "--out", tmp_path / "papers")
    assert shown.exit_code == exits.DONE and "trial 8:" in shown.output and "trial 9:" not in shown.output
    assert (tmp_path / "papers" / "weld-trials.pdf").read_bytes().startswith(b"%PDF")
    assert run("trials", *SHEET, "--budget", "5").exit_code == exits.BAD_INPUT


def test_coupons_and_assembly() -> None:
    assert "5 weld coupons and 5 of the parent" in run("coupons", *SHEET).output
    shown = run("assembly", "--free-length", "0.2")
    assert shown.exit_code == exits.STOPPED and "Weld J4, J7, J3" in shown.output
    assert run("assembly", "--datum", "left").exit_code == exits.BAD_INPUT
    assert run("assembly", "--nozzle", "N06002,N06625").exit_code == exits.BAD_INPUT


def test_fit_up_says_whether_the_ends_meet(tmp_path: Path) -> None:
    shown = run("fit-up", "HD-402", "--out", tmp_path / "f")
    assert shown.exit_code == exits.DONE and "Nothing is measured yet." in shown.output
    assert (tmp_path / "f" / "weld-fit-up-HD-402.pdf").read_bytes().startswith(b"%PDF")
    stopped = run("fit-up", "HD-402", "--mismatch", "0.03,0.12,0.02", "--gap", "0.01,0.02,0.01")
    assert stopped.exit_code == exits.STOPPED and "Do not weld HD-402" in stopped.output
    wider = run("fit-up", "HD-402", "--mismatch", "0.03,0.12,0.02", "--gap", "0.01,0.02,0.01", "--level", "C")
    assert wider.exit_code == exits.DONE
    for bad in (("--mismatch", "0.03;0.12"), ("--level", "A"), ("--mismatch", "0.03,0.02,0.02")):
        assert run("fit-up", "HD-402", *bad).exit_code == exits.BAD_INPUT
    assert run("fit-up", "HD-499").exit_code == exits.BAD_INPUT


def test_qualify_proves_or_says_that_it_does_not(tmp_path: Path) -> None:
    tensile, lives = tmp_path / "tensile.csv", tmp_path / "lives.csv"
    rows = [f"weld,{v},parent" for v in (771, 766, 774, 768)] + [f"parent,{v}," for v in (778, 781, 776, 779)]
    tensile.write_text("\n".join(["kind,tensile_MPa,fracture", *rows]) + "\n", encoding="utf-8")
    shown = run("qualify", tensile, "--material", "N06002", "--thickness", "0.8", "--out", tmp_path / "q")
    assert shown.exit_code == exits.DONE and "The weld is proved to hold 98" in shown.output
    tests = [(k, a, c) for k in ("weld", "parent") for a, c in ((300, 7e5), (300, 9e5), (400, 1e5), (400, 2e5))]
    told = "\n".join(["kind,amplitude_MPa,cycles,run_out", *(f"{k},{a},{c},{int(c == 9e5)}" for k, a, c in tests)])
    lives.write_text(told + "\n", encoding="utf-8")
    more = ("--lives", lives, "--design-amplitude", "350")
    with_lives = run("qualify", tensile, "--material", "N06002", "--thickness", "0.8", *more)
    assert "1 of 4 weld tests and 1 of 4 parent tests ran out." in with_lives.output
    assert run("qualify", tensile, *SHEET, "--lives", lives).exit_code == exits.BAD_INPUT
    tensile.write_text("kind,tensile_MPa\nweld,600\nweld,700\nparent,778\nparent,781\n", encoding="utf-8")
    weak = run("qualify", tensile, *SHEET)
    assert weak.exit_code == exits.STOPPED and "The weld is not proved" in weak.output


def test_seam_card_of_a_lot_is_one_that_a_plan_takes(tmp_path: Path) -> None:
    from hoopwright.design.demo import demo_liner
    from hoopwright.plan.job import ring_job
    from hoopwright.plan.shelf import Shelf

    held = run(
        "lot", "W07", "--thickness", "0.8", "--material", "N06002", "--specified", "724", "--out", tmp_path / "l"
    )
    assert held.exit_code == exits.STOPPED and "731 MPa passes the specified 724 MPa" in held.output
    job = ring_job(demo_liner(), "HD-402", Shelf(tmp_path / "l"))
    assert job.seam.card_id == "N06002-0.80"
    assert round(job.limits.weld_shrink_mm.value, 3) == 0.137 and job.limits.weld_shrink_mm.source.invented
    assert job.seam.strength_ratio is not None and round(job.seam.strength_ratio.value, 3) == 0.978
    made = run("setting", "--power", "600", "--speed", "40", *SHEET, "--radius", "124", "--out", tmp_path / "s")
    assert "stands out at the seam" in made.output
    assert Shelf(tmp_path / "s").seam("N06625", 0.8).angle_deg.value < 0.0


def test_heights_teach_the_pull_in(tmp_path: Path) -> None:
    heights = tmp_path / "heights.csv"
    heights.write_text("joint,before_mm,after_mm\nJ4,120.40,120.25\n", encoding="utf-8")
    shown = run("assembly", "--heights", heights)
    assert "Pull-in of J7, J3, J6, J2, J1, J5 rests on practice" in shown.output
    heights.write_text("joint,before_mm,after_mm\nJ9,120.40,120.25\n", encoding="utf-8")
    assert run("assembly", "--heights", heights).exit_code == exits.BAD_INPUT


RETEST = """
[[weld_lot]]
name = "retest-W07"
lot = "W07-R"
sheet_cast = "X0417"
parent_tensile_MPa = [778.0, 779.0]
"""
COUPON = """
[[weld_lot.coupon]]
id = "{}"
tensile_MPa = {}
mismatch_mm = 0.05
underfill_mm = 0.02
fracture = "parent"
"""


def test_the_one_retest_of_a_lot(tmp_path: Path) -> None:
    readings = tmp_path / "readings.toml"

    def retested(*strengths: float) -> Result:
        coupons = "".join(COUPON.format(f"W07-{7 + k}", value) for k, value in enumerate(strengths))
        readings.write_text(demo_text("readings.toml") + RETEST + coupons, encoding="utf-8")
        return run("lot", "W07", "--thickness", "0.8", "--readings", readings, "--retest", "W07-R")

    assert "released after its one retest" in retested(770.0, 768.0).output
    failed = retested(770.0, 700.0)
    assert failed.exit_code == exits.STOPPED and "no third try" in failed.output
    assert retested(770.0).exit_code == exits.BAD_INPUT
