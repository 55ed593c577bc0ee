"""The stages of `start.py test`, and the runs of soaks and benchmarks."""

from __future__ import annotations

import os
import platform
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from house import wheel
from house.places import ROOT, program
from house.say import line
from house.stages import Stage

CHECKED = ("start.py", "house", "src", "tests", "docs", "benchmarks", "examples")


def environment(base: Mapping[str, str], fresh_cache: str | None) -> dict[str, str]:
    """The environment of a test run: one thread for each worker, and in CI a kernel cache of its own.

    A fresh cache proves that the kernels compile from nothing and that no old answer is taken from a cache.
    """
    env = dict(base)
    for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "NUMBA_NUM_THREADS"):
        env[name] = "1"
    env["PYTHONUTF8"] = "1"
    if fresh_cache is not None:
        env["NUMBA_CACHE_DIR"] = fresh_cache
    return env


def in_ci(env: Mapping[str, str]) -> bool:
    """Whether this is a CI machine."""
    return env.get("CI", "").lower() in ("1", "true", "yes")


def workers(cores: int | None) -> tuple[str, ...]:
    """pytest's options for two workers where there are two cores; a file's tests stay in one worker.

    Kept together, the tests of a file share the kernels which that worker has compiled.
    """
    return ("-n", "2", "--dist", "loadfile") if cores is not None and cores >= 2 else ("-p", "no:xdist")


def tool(*command: str, env: Mapping[str, str] | None = None) -> Callable[[], bool]:
    """Work of a stage: run a program of `.venv` and see that it ends with 0."""

    def work() -> bool:
        path = program(command[0])
        return subprocess.run([str(path), *command[1:]], cwd=ROOT, env=env, check=False).returncode == 0

    return work


def present(*names: str) -> list[str]:
    """Those of these files and folders of the repository that are there."""
    return [name for name in names if (ROOT / name).exists()]


def test_stages(env: Mapping[str, str], extra: Sequence[str]) -> tuple[Stage, ...]:
    """All stages of the test run, quick ones first."""
    doctests = ("python", "-m", "pytest", "--doctest-modules", "-p", "no:xdist", "-p", "no:benchmark", "src/hoopwright")
    tests = ("python", "-m", "pytest", *workers(os.cpu_count()), "-p", "no:benchmark", "tests", *extra)
    return (
        Stage("lint", "ruff, every Python file", tool("ruff", "check", *present(*CHECKED))),
        Stage("format", "ruff format, nothing to change", tool("ruff", "format", "--check", *present(*CHECKED))),
        Stage("types", "mypy --strict on src, house and docs", tool("python", "-m", "mypy")),
        Stage("imports", "imports only point down the rooms", tool("lint-imports", "--no-cache")),
        Stage("docs", "generated pages and schemas are fresh", tool("python", "docs/generate.py", "--check", env=env)),
        Stage("examples", "every example in a docstring", tool(*doctests, env=env)),
        Stage("tests", "everything in tests, house checks included", tool(*tests, env=env)),
        Stage("wheel", "the built package holds all its files and starts elsewhere", wheel.check),
    )


def choose(stages: Sequence[Stage], only: Sequence[str]) -> tuple[Stage, ...]:
    """The stages asked for by name; all where none is named.

    Raises
    ------
    ValueError
        Where a name is not the name of a stage; the message lists the names.
    """
    names = [stage.name for stage in stages]
    unknown = [name for name in only if name not in names]
    if unknown:
        raise ValueError(f"no stage is called {', '.join(unknown)}; the stages are {', '.join(names)}")
    return tuple(stage for stage in stages if not only or stage.name in only)


def with_kernel_cache(run: Callable[[Mapping[str, str]], int]) -> int:
    """Call `run` with the environment of a test run; in CI the kernel cache lives only as long as the call."""
    if not in_ci(os.environ):
        return run(environment(os.environ, None))
    with tempfile.TemporaryDirectory(prefix="hoopwright-kernels-") as folder:
        return run(environment(os.environ, folder))


def machine() -> str:
    """One line on this machine and this day, to stand above measured times."""
    what = f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}"
    return f"{time.strftime('%Y-%m-%d')}: {what}"


def pytest_run(arguments: Sequence[str], env: Mapping[str, str], none_found: str) -> int:
    """Run pytest; where it finds no test, say what that means."""
    command = [str(program("python")), "-m", "pytest", *arguments]
    code = subprocess.run(command, cwd=ROOT, env=env, check=False).returncode
    if code == 5:
        line(none_found)
    return code


def soak(extra: Sequence[str]) -> int:
    """Run the long tests, those marked `soak`."""
    return with_kernel_cache(
        lambda env: pytest_run(
            ["-m", "soak", "-p", "no:benchmark", "--durations=0", "tests", *extra], env, "no test is marked soak yet"
        )
    )


def bench(extra: Sequence[str]) -> int:
    """Run the benchmarks and print their times under the machine and the day."""
    line(machine())
    columns = "--benchmark-columns=min,median,max,stddev,rounds"
    chosen = ["-m", "bench", "-p", "no:xdist", "--benchmark-only", "--benchmark-sort=name", columns, "benchmarks"]
    env = {**os.environ, "PYTHONUTF8": "1"}
    return pytest_run([*chosen, *extra], env, "there is no benchmark yet")


def source_files(folder: Path) -> list[Path]:
    """Every Python file under a folder, sorted."""
    return sorted(path for path in folder.rglob("*.py") if "__pycache__" not in path.parts)


def python_line() -> str:
    """Which Python runs this, for the head of a run."""
    return f"Python {platform.python_version()} on {sys.platform}"
