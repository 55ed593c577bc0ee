"""Puts real output into README.md: run `python -m docs.readme_output` when the program's words or figures change.

The tests compare the README with the program; this writes what they want to see.
"""

from __future__ import annotations

import contextlib
import io
import re
import runpy
import tempfile
from pathlib import Path

from typer.testing import CliRunner

from hoopwright.cli.main import app

ROOT = Path(__file__).resolve().parent.parent
FILES_SHOWN = 6


def demo_output() -> str:
    """What the demo says, its list of files cut after the first few."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "hoopwright-demo"
        lines = CliRunner().invoke(app, ["demo", "--out", str(out)]).stdout.splitlines()
    start = next(k for k, text in enumerate(lines) if text.startswith("Written to"))
    first = next(k for k, text in enumerate(lines) if text.startswith("Look first"))
    head = "Written to hoopwright-demo, inputs " + lines[start].split("inputs ")[1]
    kept = [*lines[:start], head, *lines[start + 1 : start + 1 + FILES_SHOWN], "  ...", "", *lines[first:]]
    return "\n".join(kept) + "\n"


def example_output() -> str:
    """What the first example prints."""
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        runpy.run_path(str(ROOT / "examples" / "01_plan_a_ring.py"), run_name="__main__")
    return said.getvalue()


def main() -> None:
    """Write both outputs into their places in README.md."""
    path = ROOT / "README.md"
    blocks = iter([demo_output(), example_output()])
    text = re.sub(
        r"```text\n.*?```", lambda _: f"```text\n{next(blocks)}```", path.read_text(encoding="utf-8"), flags=re.DOTALL
    )
    path.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
