"""Where things are: the repository, its virtual environment, the programs inside it."""

from __future__ import annotations

import os
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
SOURCE = ROOT / "src" / "hoopwright"


def program(name: str, venv: Path = VENV, windows: bool = os.name == "nt") -> Path:
    """Path of a program inside a virtual environment (`python`, `ruff`, `hoopwright`)."""
    if windows:
        return venv / "Scripts" / f"{name}.exe"
    return venv / "bin" / name
