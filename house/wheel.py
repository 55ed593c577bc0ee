"""Build the wheel, install it in a throw-away environment, and see that it is whole and starts there."""

from __future__ import annotations

import subprocess
import tempfile
import zipfile
from pathlib import Path

from house import setup
from house.places import ROOT, SOURCE, program
from house.say import doing, line

PROBE = """
import sys, hoopwright
from types import ModuleType
assert 'site-packages' in hoopwright.__file__, hoopwright.__file__
names = getattr(hoopwright, '__all__', None)
if names is None:
    names = [n for n, v in vars(hoopwright).items() if not n.startswith('_') and not isinstance(v, ModuleType)]
print(hoopwright.__version__, len(names))
"""


def package_files(source: Path) -> set[str]:
    """Every file of the package, cards, fonts and schemas included, by its path inside the wheel."""
    kept = (path for path in source.rglob("*") if path.is_file() and "__pycache__" not in path.parts)
    return {path.relative_to(source.parent).as_posix() for path in kept}


def left_out(wheel: Path, source: Path) -> list[str]:
    """Files of the package that a wheel lacks."""
    with zipfile.ZipFile(wheel) as archive:
        inside = set(archive.namelist())
    return sorted(package_files(source) - inside)


def build(folder: Path, uv: Path | None) -> Path | None:
    """Build the wheel into a folder with the pinned build tools; None where the build fails."""
    python = program("python")
    if uv is not None:
        command: list[str | Path] = [uv, "build", "--wheel", "--no-build-isolation", "--quiet"]
        command += ["--python", python, "--out-dir", folder, ROOT]
    else:
        command = [python, "-m", "pip", "wheel", "-qq", "--no-deps", "--no-build-isolation", "-w", folder, ROOT]
    if setup.run(command):
        return None
    return next(folder.glob("hoopwright-*.whl"), None)


def install(wheel: Path, venv: Path, uv: Path | None) -> bool:
    """Install the runtime pins and the wheel in a new environment."""
    setup.make_venv(venv)
    python = program("python", venv)
    if uv is not None:
        pip: list[str | Path] = [uv, "pip", "install", "--quiet", "--python", python]
    elif setup.run([python, "-m", "ensurepip"], quiet=True) == 0:
        pip = [python, "-m", "pip", "install", "-qq", *setup.PIP]
    else:
        return False
    pins = [*pip, "--require-hashes", "--only-binary", ":all:", "-r", ROOT / "requirements.txt"]
    return setup.run(pins) == 0 and setup.run([*pip, "--no-deps", wheel]) == 0


def installed_names(venv: Path, away: Path) -> int | None:
    """Import the installed package from a folder far from the sources; how many names that gives, None if it fails."""
    command = [str(program("python", venv)), "-I", "-c", PROBE]
    answer = subprocess.run(command, cwd=away, capture_output=True, text=True, check=False)
    if answer.returncode:
        line(answer.stderr)
        return None
    version, names = answer.stdout.split()
    line(f"  import hoopwright: version {version}")
    return int(names)


def command_starts(venv: Path, away: Path) -> bool:
    """Whether `hoopwright --help` starts from the installed wheel."""
    command = [str(program("hoopwright", venv)), "--help"]
    answer = subprocess.run(command, cwd=away, capture_output=True, text=True, check=False)
    if answer.returncode:
        line(f"  hoopwright --help ended with {answer.returncode}:\n{answer.stderr}")
    return answer.returncode == 0


def check() -> bool:
    """Build, install and try the wheel, then print the size report."""
    from house import sizes

    uv = setup.get_uv()
    with tempfile.TemporaryDirectory(prefix="hoopwright-wheel-") as name:
        folder = Path(name)
        with doing("building the wheel"):
            wheel = build(folder / "dist", uv)
        if wheel is None:
            line("  the wheel could not be built")
            return False
        lacking = left_out(wheel, SOURCE)
        for path in lacking:
            line(f"  not in the wheel: {path}")
        with doing("installing it with the runtime pins in a throw-away environment"):
            installed = install(wheel, folder / "venv", uv)
        if not installed:
            line("  the wheel could not be installed")
            return False
        names = installed_names(folder / "venv", folder)
        starts = command_starts(folder / "venv", folder)
        size_kB = wheel.stat().st_size / 1000
        line(f"  {wheel.name}: {size_kB:.0f} kB, {len(package_files(SOURCE))} files of the package, all inside"
             if not lacking else f"  {wheel.name}: {len(lacking)} files left out")  # fmt: skip
    line(sizes.report(sizes.measure(SOURCE), names or 0))
    return not lacking and names is not None and starts
