"""Every example runs as it stands, and says the number it is for; the README shows the first one and its output."""

import contextlib
import io
import re
import runpy
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.py"))

# what each example is for, as it must stand in its output
SAID = {
    "01_plan_a_ring.py": r"lip od, free: 247\.600 mm",
    "02_change_one_value.py": r"segment radius, lip, z 66\.0: 123\.3\d\d mm -> 123\.2\d\d mm",
    "03_explain_a_figure.py": r"r_free \+ u - t_loaded / 2 .*= 123\.40",
    "04_diagnose_from_the_records.py": r"superseded segment set HT-402-S0: turned 1\.825 mm too small",
    "05_size_on_segments.py": r"lip od, free: 247\.61\d mm",
}


def output(path: Path) -> str:
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        runpy.run_path(str(path), run_name="__main__")
    return said.getvalue()


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_example_runs_and_says_its_number(path: Path) -> None:
    assert re.search(SAID[path.name], output(path))


def test_the_readme_shows_the_first_example_and_its_output() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    code = (ROOT / "examples" / "01_plan_a_ring.py").read_text(encoding="utf-8")
    assert f"```python\n{code}```" in readme
    assert f"```text\n{output(EXAMPLES[0])}```" in readme
    assert len([line for line in code.splitlines() if line.strip()]) <= 16


def test_the_readme_shows_what_the_demo_says(tmp_path: Path) -> None:
    from typer.testing import CliRunner

    from hoopwright.cli.main import app

    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    said = CliRunner().invoke(app, ["demo", "--out", str(tmp_path / "demo")]).output
    shown = readme.split("```text\n", 1)[1].split("```", 1)[0]
    for line in shown.splitlines():
        if line.strip() not in ("", "...") and not line.startswith("Written to"):
            assert line in said
