"""What the tests need of the operating system, and how it is got. A missing piece stops the run; it skips nothing."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from house.say import Missing, line


@dataclass(frozen=True, slots=True)
class Need:
    """One thing of the system: its name, what it is for, how to see it, its package by package manager."""

    name: str
    used_for: str
    is_there: Callable[[], bool]
    packages: Mapping[str, str]


def on_path(*programs: str) -> Callable[[], bool]:
    """A detector: any one of these programs is on the search path."""
    return lambda: any(shutil.which(program) for program in programs)


def postgres_is_there() -> bool:
    """Whether a PostgreSQL server can be started here; its programs often lie beside the search path."""
    return shutil.which("initdb") is not None or any(Path("/usr/lib/postgresql").glob("*/bin/initdb"))


SYSTEM_NEEDS: tuple[Need, ...] = (
    Need(
        "Chromium",
        "tests of the page in a real browser",
        on_path("chromium", "chromium-browser", "google-chrome"),
        {"apt": "chromium", "dnf": "chromium", "brew": "chromium"},
    ),
    Need(
        "PostgreSQL server",
        "tests of the records on a real server, started and stopped by the tests themselves",
        postgres_is_there,
        {"apt": "postgresql", "dnf": "postgresql-server", "brew": "postgresql"},
    ),
)
"""What the tests need beyond Python."""

MANAGERS: dict[str, tuple[str, ...]] = {
    "apt": ("apt-get", "install", "-y", "--no-install-recommends"),
    "dnf": ("dnf", "install", "-y"),
    "brew": ("brew", "install"),
}


def manager() -> str | None:
    """The package manager of this machine: apt, dnf or brew; None where there is none of them."""
    return next((name for name, command in MANAGERS.items() if shutil.which(command[0])), None)


def rights(name: str) -> tuple[str, ...] | None:
    """What to put before the package manager's command: nothing, sudo, or None where it may not be run."""
    if name == "brew" or (hasattr(os, "geteuid") and os.geteuid() == 0):
        return ()
    if shutil.which("sudo") is None:
        return None
    asks_nothing = subprocess.run(["sudo", "-n", "true"], capture_output=True, check=False).returncode == 0
    return ("sudo", "-n") if asks_nothing else None


def missing_text(needs: Sequence[Need], name: str | None) -> Missing:
    """Every missing piece by name and package, and the one command that installs them."""
    what = "the tests need of this system: " + "; ".join(f"{need.name} ({need.used_for})" for need in needs) + "."
    if name is None:
        named = [f"{need.name}: " + ", ".join(f"{m} {p}" for m, p in need.packages.items()) for need in needs]
        return Missing(what, "install these by hand, packages are called: " + "; ".join(named))
    command = " ".join((*MANAGERS[name], *(need.packages[name] for need in needs)))
    return Missing(what, f"run: {'' if name == 'brew' else 'sudo '}{command}")


def call(command: Sequence[str]) -> int:
    """Run a package manager with its questions turned off; its exit code."""
    env = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    return subprocess.run(command, env=env, stdout=sys.stderr, check=False).returncode


def ensure(
    needs: Sequence[Need] = SYSTEM_NEEDS,
    find_manager: Callable[[], str | None] = manager,
    find_rights: Callable[[str], tuple[str, ...] | None] = rights,
    run: Callable[[Sequence[str]], int] = call,
) -> None:
    """Install what is missing where that is allowed; else stop before any test and name the package.

    Raises
    ------
    Missing
        Where a need is not there and was not, or could not be, installed.
    """
    lacking = [need for need in needs if not need.is_there()]
    if not lacking:
        return
    name = find_manager()
    if name is None or any(name not in need.packages for need in lacking):
        raise missing_text(lacking, None)
    before = find_rights(name)
    if before is None:
        raise missing_text(lacking, name)
    line(f"· installing with {name}: {', '.join(need.packages[name] for need in lacking)} …")
    if name == "apt":
        run([*before, "apt-get", "update", "-q"])
    run([*before, *MANAGERS[name], *(need.packages[name] for need in lacking)])
    still = [need for need in lacking if not need.is_there()]
    if still:
        raise missing_text(still, name)
