"""What the virtual environment was last made from, so that nothing is done twice."""

from __future__ import annotations

import hashlib
import json
import platform
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Literal

Level = Literal["runtime", "dev"]
Work = Literal["nothing", "sync", "rebuild"]

STAMP = "hoopwright-setup.json"
PINS: dict[Level, tuple[str, ...]] = {
    "runtime": ("requirements.txt", "requirements-build.txt"),
    "dev": ("requirements-dev.txt", "requirements-build.txt"),
}


@dataclass(frozen=True, slots=True)
class Stamp:
    """State of the environment: how much is installed, from which pins, by which Python, in which folder."""

    level: Level
    pins: str
    python: str
    root: str


def pins_digest(root: Path, level: Level) -> str:
    """Digest of the pin files of a level, of the uv pin and of pyproject.toml."""
    digest = hashlib.sha256()
    for name in (*PINS[level], "requirements-uv.txt", "pyproject.toml"):
        digest.update(name.encode() + b"\0" + (root / name).read_bytes() + b"\0")
    return digest.hexdigest()


def wanted(root: Path, level: Level) -> Stamp:
    """The stamp this checkout asks for now."""
    return Stamp(level, pins_digest(root, level), platform.python_version(), str(root))


def read(venv: Path) -> Stamp | None:
    """The stamp left in an environment; None where there is none or it cannot be read."""
    try:
        return Stamp(**json.loads((venv / STAMP).read_text(encoding="utf-8")))
    except (OSError, ValueError, TypeError):
        return None


def write(venv: Path, stamp: Stamp) -> None:
    """Leave the stamp; written last, so that a set-up broken off half way leaves none."""
    (venv / STAMP).write_text(json.dumps(asdict(stamp), indent=1) + "\n", encoding="utf-8")


def clear(venv: Path) -> None:
    """Take the stamp away before anything is changed."""
    (venv / STAMP).unlink(missing_ok=True)


def level_to_keep(have: Stamp | None, asked: Level) -> Level:
    """A plain `demo` never takes the test tools away again."""
    return "dev" if have is not None and have.level == "dev" else asked


def work_to_do(have: Stamp | None, want: Stamp, venv_runs: bool) -> Work:
    """What set-up has to do, from what is there and what is asked for.

    An environment made by another Python, or moved from another folder (its programs name their interpreter by
    full path), is made anew; one without a stamp is brought to the pins.
    """
    if not venv_runs:
        return "rebuild"
    if have is None:
        return "sync"
    if (have.python, have.root) != (want.python, want.root):
        return "rebuild"
    return "nothing" if have == want else "sync"
