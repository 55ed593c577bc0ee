"""The files of this repository, as the house tests read them."""

from __future__ import annotations

import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LEFT_OUT = {".git", ".venv", "__pycache__", "out", "build", "dist", ".mypy_cache", ".ruff_cache", ".pytest_cache"}


def repository_files() -> list[Path]:
    """Every file that is, or would be, under version control; without git, every file outside the usual caches."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
    try:
        answer = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    except (OSError, subprocess.CalledProcessError):
        return sorted(p for p in ROOT.rglob("*") if p.is_file() and not LEFT_OUT & set(p.relative_to(ROOT).parts))
    paths = (ROOT / name for name in answer.stdout.split("\0") if name)
    return sorted(path for path in paths if path.is_file())


def text_of(path: Path) -> str | None:
    """The text of a file; None where it is not text."""
    data = path.read_bytes()
    if b"\0" in data:
        return None
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return None
