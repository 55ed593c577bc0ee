"""Make `.venv` and bring it to the hashed pins: by uv, itself pinned by hash, or by pip where uv cannot be had."""

from __future__ import annotations

import shutil
import subprocess
import sys
import time
from pathlib import Path

from house import stamp as stamps
from house.places import ROOT, VENV, program
from house.say import Missing, doing, line

PIP = ("--disable-pip-version-check", "--no-input", "--retries", "1", "--timeout", "30")


def run(command: list[str | Path], quiet: bool = False) -> int:
    """Run a program in the repository root; its exit code. `quiet` keeps back what it says."""
    sink = subprocess.DEVNULL if quiet else None
    return subprocess.run([str(part) for part in command], cwd=ROOT, stdout=sink, stderr=sink, check=False).returncode


def starts(python: Path) -> bool:
    """Whether an interpreter is there, starts, and is of the version that runs this."""
    if not python.exists():
        return False
    probe = "import sys; print(*sys.version_info[:3], sep='.')"
    answer = subprocess.run([str(python), "-c", probe], capture_output=True, text=True, check=False)
    return answer.returncode == 0 and answer.stdout.strip() == ".".join(map(str, sys.version_info[:3]))


def make_venv(venv: Path = VENV) -> None:
    """Make an empty virtual environment, without pip (uv needs none)."""
    try:
        import venv as module
    except ImportError:
        raise Missing(
            "this Python has no `venv` module.",
            "install it (Debian, Ubuntu: python3-venv; others: a full Python 3.11 or newer) and run start.py again",
        ) from None
    if venv.exists():
        shutil.rmtree(venv)
    module.EnvBuilder(with_pip=False, symlinks=sys.platform != "win32").create(venv)


def pip_command() -> list[str | Path]:
    """The pip to fetch with: of the Python that runs this, else one put into `.venv` by ensurepip."""
    if run([sys.executable, "-m", "pip", "--version"], quiet=True) == 0:
        return [sys.executable, "-m", "pip"]
    inside = program("python")
    if run([inside, "-m", "ensurepip", "--default-pip"], quiet=True) == 0:
        return [inside, "-m", "pip"]
    raise Missing(
        "this Python has neither `pip` nor `ensurepip`, so nothing can be installed.",
        "install pip (Debian, Ubuntu: python3-pip or python3-venv; Fedora: python3-pip) and run start.py again",
    )


def find_uv() -> Path | None:
    """The pinned uv inside `.venv`, if it was put there before."""
    for name in ("bin/uv", "bin/uv.exe", "Scripts/uv.exe"):
        if (VENV / "uv" / name).exists():
            return VENV / "uv" / name
    return None


def get_uv() -> Path | None:
    """The pinned uv, fetched with pip by its hash into a folder of its own; None where it cannot be had."""
    uv_stamp = VENV / "uv" / "pin.txt"
    pin = (ROOT / "requirements-uv.txt").read_text(encoding="utf-8")
    if find_uv() is not None and uv_stamp.exists() and uv_stamp.read_text(encoding="utf-8") == pin:
        return find_uv()
    shutil.rmtree(VENV / "uv", ignore_errors=True)
    with doing("fetching the installer uv (pinned by hash)"):
        target: list[str | Path] = ["--target", VENV / "uv", "--require-hashes", "--no-deps", "--only-binary", ":all:"]
        failed = run([*pip_command(), "install", "-qq", *PIP, *target, "-r", "requirements-uv.txt"])
    if failed or find_uv() is None:
        line("  uv could not be had; going on with pip, which is slower")
        return None
    uv_stamp.write_text(pin, encoding="utf-8")
    return find_uv()


def sync_with_uv(uv: Path, level: stamps.Level, venv: Path = VENV) -> bool:
    """Bring an environment to the pins of a level, then put the package itself in, editable."""
    quiet = [] if sys.stderr.isatty() else ["--quiet"]
    into: list[str | Path] = ["--python", program("python", venv), *quiet]
    hashed = ["--require-hashes", "--only-binary", ":all:"]
    if run([uv, "pip", "sync", *into, *hashed, *stamps.PINS[level]]):
        return False
    return run([uv, "pip", "install", *into, "--no-deps", "--no-build-isolation", "--editable", ROOT]) == 0


def sync_with_pip(level: stamps.Level) -> bool:
    """The same by pip: slower, and what is no longer pinned stays behind."""
    inside = program("python")
    if run([inside, "-m", "pip", "--version"], quiet=True):
        run([inside, "-m", "ensurepip", "--default-pip"], quiet=True)
    pip: list[str | Path] = [inside, "-m", "pip", "install", "-qq", *PIP]
    pins = [part for name in stamps.PINS[level] for part in ("-r", name)]
    if run([*pip, "--require-hashes", "--only-binary", ":all:", *pins]):
        return False
    return run([*pip, "--no-deps", "--no-build-isolation", "--editable", ROOT]) == 0


def ensure(asked: stamps.Level) -> None:
    """Bring `.venv` to what this checkout asks for; do nothing where it is there already.

    Raises
    ------
    Missing
        Where the machine lacks something that cannot be made here: a Python part, the network.
    """
    have = stamps.read(VENV)
    level = stamps.level_to_keep(have, asked)
    want = stamps.wanted(ROOT, level)
    work = stamps.work_to_do(have, want, starts(program("python")))
    if work == "nothing":
        return
    begin = time.perf_counter()
    if work == "rebuild":
        with doing("making the virtual environment .venv"):
            make_venv()
    stamps.clear(VENV)
    uv = get_uv()
    with doing(f"installing the pinned packages ({level}) with {'uv' if uv else 'pip'}"):
        synced = sync_with_uv(uv, level) if uv else sync_with_pip(level)
    if not synced and uv:
        with doing("uv did not finish; installing with pip instead"):
            synced = sync_with_pip(level)
    if not synced:
        raise Missing(
            "the pinned packages could not be installed; the installer's own words stand above.",
            "check that this machine reaches its package registry (network, proxy, mirror of pip), then run again",
        )
    stamps.write(VENV, want)
    line(f"· set-up finished in {time.perf_counter() - begin:.1f} s")
