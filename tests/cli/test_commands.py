"""The commands as a person runs them, in process: what they say, what they write, and their exit codes."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from hoopwright.cli import exits
from hoopwright.cli.main import app
from hoopwright.design.demo import demo_text

RUNNER = CliRunner()


def run(*words: str | Path) -> Result:
    result = RUNNER.invoke(app, [str(word) for word in words], catch_exceptions=False)
    assert "Traceback" not in result.output
    return result


@pytest.fixture
def liner_file(tmp_path: Path) -> Path:
    path = tmp_path / "liner.toml"
    path.write_text(demo_text("liner.toml"), encoding="utf-8")
    return path


def test_help_names_every_command_and_exit_code() -> None:
    shown = run("--help")
    assert shown.exit_code == exits.DONE
    for word in ("check", "upgrade", "plan", "demo", "explain", "cards", "tensile"):
        assert word in shown.output
    for code in exits.MEANING:
        assert f"{code} " in shown.output


def test_check_of_the_demo_is_sound_and_draws_every_section(liner_file: Path, tmp_path: Path) -> None:
    shown = run("check", liner_file, "--svg", tmp_path / "drawn")
    assert shown.exit_code == exits.DONE
    assert "no fault, nothing stops a plan" in shown.output
    drawn = sorted(p.name for p in (tmp_path / "drawn").glob("*.svg"))
    assert drawn == ["HD-400.svg", *(f"HD-{n}.svg" for n in (401, 402, 403, 404, 411, 412, 413))]


def test_check_says_every_fault_at_once_with_its_line(liner_file: Path) -> None:
    text = liner_file.read_text(encoding="utf-8")
    broken = text.replace("thickness_mm = 0.8", "thickness_mm = -0.8", 1).replace(
        'side = "inner"', 'side = "inwards"', 1
    )
    liner_file.write_text(broken, encoding="utf-8")
    shown = run("check", liner_file)
    assert shown.exit_code == exits.BAD_INPUT
    assert "2 faults" in shown.output
    assert "thickness_mm is -0.8 mm" in shown.output
    assert "side is" in shown.output
    assert shown.output.count("line ") >= 2
    as_data = json.loads(run("check", liner_file, "--json").output)
    assert len(as_data["faults"]) == 2
    assert all(fault["remedy"] for fault in as_data["faults"])


def test_a_missing_file_is_a_sentence_with_a_remedy(tmp_path: Path) -> None:
    shown = run("plan", tmp_path / "nowhere.toml", "--out", tmp_path / "out")
    assert shown.exit_code == exits.BAD_INPUT
    assert "nowhere.toml" in shown.output
    assert "Do:" in shown.output
    assert not (tmp_path / "out").exists()


def test_plan_of_one_ring_writes_its_papers_and_says_what_stops(liner_file: Path, tmp_path: Path) -> None:
    out = tmp_path / "plan"
    shown = run("plan", liner_file, "--out", out, "--ring", "HD-401", "--date", "2031-03-01")
    assert shown.exit_code == exits.STOPPED
    assert "HD-401 slips 6.10 %" in shown.output
    names = {path.relative_to(out).as_posix() for path in out.rglob("*") if path.is_file()}
    assert {"plan.json", "HD-401/HD-401-walk.pdf", "HD-401/HD-401-blank.dxf"} <= names
    data = json.loads((out / "plan.json").read_text(encoding="utf-8"))
    assert [ring["ring"] for ring in data["rings"]] == ["HD-401"]
    taken = run("take", liner_file, out / "plan.json", "--records", tmp_path / "job", "--by", "MD")
    assert taken.exit_code == exits.DONE and "expected sizes of HD-401 are in force" in taken.output


def test_the_same_input_gives_the_same_bytes(liner_file: Path, tmp_path: Path) -> None:
    for name in ("one", "two"):
        run("plan", liner_file, "--out", tmp_path / name, "--ring", "HD-411", "--date", "2031-03-01")
    first = {p.relative_to(tmp_path / "one"): p.read_bytes() for p in (tmp_path / "one").rglob("*") if p.is_file()}
    second = {p.relative_to(tmp_path / "two"): p.read_bytes() for p in (tmp_path / "two").rglob("*") if p.is_file()}
    assert first == second
    assert len(first) >= 7


def test_a_faulty_liner_leaves_an_earlier_plan_untouched(liner_file: Path, tmp_path: Path) -> None:
    out = tmp_path / "plan"
    run("plan", liner_file, "--out", out, "--ring", "HD-411", "--date", "2031-03-01")
    before = {p: p.read_bytes() for p in out.rglob("*") if p.is_file()}
    liner_file.write_text("schema = 3", encoding="utf-8")
    assert run("plan", liner_file, "--out", out).exit_code == exits.BAD_INPUT
    assert {p: p.read_bytes() for p in out.rglob("*") if p.is_file()} == before
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith(".")] == []


def test_a_folder_of_somebody_else_is_not_replaced(liner_file: Path, tmp_path: Path) -> None:
    out = tmp_path / "mine"
    out.mkdir()
    (out / "letter.txt").write_text("keep me", encoding="utf-8")
    shown = run("plan", liner_file, "--out", out)
    assert shown.exit_code == exits.BAD_INPUT
    assert "written by this program before" in shown.output
    assert [p.name for p in out.iterdir()] == ["letter.txt"]


def test_explain_shows_formula_numbers_inputs_and_grounds() -> None:
    shown = run("explain", "HD-402/segments/radius-lip")
    assert shown.exit_code == exits.DONE
    for words in ("segment radius, lip", "r_free + u - t_loaded / 2", "springback on radius", "ground:"):
        assert words in shown.output


def test_explain_from_a_written_plan_equals_explain_anew(liner_file: Path, tmp_path: Path) -> None:
    run("plan", liner_file, "--out", tmp_path / "plan", "--ring", "HD-402", "--date", "2031-03-01")
    figure = "HD-402/press/pull"
    written = json.loads(run("explain", figure, "--of", tmp_path / "plan" / "plan.json", "--json").output)
    anew = json.loads(run("explain", figure, "--of", liner_file, "--json").output)
    # nine significant digits stand in plan.json
    assert written["figure"]["value"] == pytest.approx(anew["figure"]["value"], rel=1e-8)
    assert written["formula"] == anew["formula"]


def test_an_unknown_figure_names_the_near_ones() -> None:
    shown = run("explain", "HD-402/press/pul")
    assert shown.exit_code == exits.BAD_INPUT
    assert "HD-402/press/pull" in shown.output


def test_explain_refuses_a_json_file_that_is_no_plan(tmp_path: Path) -> None:
    path = tmp_path / "other.json"
    path.write_text('{"schema": "something"}', encoding="utf-8")
    shown = run("explain", "HD-402/press/pull", "--of", path)
    assert shown.exit_code == exits.BAD_INPUT
    assert "hoopwright-plan-1" in shown.output


def test_cards_lists_shows_and_refuses() -> None:
    assert "alloy/N06002" in run("cards").output
    one = run("cards", "N06002")
    assert "density" in one.output and "[read]" in one.output
    missing = run("cards", "N99999")
    assert missing.exit_code == exits.NO_CARD
    assert "alloy/N06002" in missing.output


def test_upgrade_writes_todays_files_and_says_what_it_assumed(tmp_path: Path) -> None:
    old = Path(__file__).parent.parent / "saved" / "demo-liner-1.toml"
    shown = run("upgrade", old, "--out", tmp_path / "new")
    assert shown.exit_code == exits.DONE
    assert "Assumed on the way" in shown.output
    assert run("check", tmp_path / "new" / "liner.toml").exit_code == exits.DONE


def test_demo_names_its_files_and_three_things_to_look_at(tmp_path: Path) -> None:
    out = tmp_path / "demo"
    shown = run("demo", "--out", out)
    assert shown.exit_code == exits.DONE
    assert "invented" in shown.output
    assert all(f"HD-{n}: " in shown.output for n in (401, 402, 403, 404, 411, 412, 413))
    after = shown.output.split("Look first at:")[1]
    assert all(f"  {k} " in after for k in (1, 2, 3))
    for line in shown.output.splitlines():
        if line.startswith("  HD-4") and line.endswith((".pdf", ".dxf")):
            assert (out / line.strip()).is_file()


def test_tensile_files_become_a_card_that_plans_take_instead_of_ours(liner_file: Path, tmp_path: Path) -> None:
    # a made-up cast, 5 % stronger than the built-in curve
    csv = tmp_path / "coupon.csv"
    rows = ["plastic strain [1];true stress [MPa]"]
    rows += [f"{p / 1000:.4f};{1711.5 * (0.02 + p / 1000) ** 0.385:.2f}".replace(".", ",") for p in range(2, 400, 4)]
    csv.write_text("\n".join(rows) + "\n", encoding="utf-8")
    folder = tmp_path / "cards"
    words = ("tensile", csv, "--card", "N06002", "--cards", folder, "--entered-by", "A. Tester", "--based-on", "N06002")
    shown = run(*words)
    assert shown.exit_code == exits.DONE, shown.output
    assert "flow curve: swift, misfit 0.0 MPa" in shown.output
    assert "shop" in run("cards", "--cards", folder).output
    ours = json.loads(run("explain", "HD-402/press/pull", "--of", liner_file, "--json").output)
    theirs = json.loads(run("explain", "HD-402/press/pull", "--of", liner_file, "--cards", folder, "--json").output)
    # the pull follows the flow stress; the extra springback adds a little to the stretch
    assert theirs["figure"]["value"] / ours["figure"]["value"] == pytest.approx(1.05, abs=0.005)
    again = run(*words)
    assert again.exit_code == exits.BAD_INPUT
    assert "overwrite" in again.output
