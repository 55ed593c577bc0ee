"""How long a fresh interpreter takes to import the package: what every command pays first."""

from __future__ import annotations

import subprocess
import sys

from pytest_benchmark.fixture import BenchmarkFixture


def import_in_fresh_interpreter() -> None:
    """Start Python, import the package, end."""
    subprocess.run([sys.executable, "-c", "import hoopwright"], check=True)


def test_import_of_the_package(benchmark: BenchmarkFixture) -> None:
    benchmark.pedantic(import_in_fresh_interpreter, rounds=5, warmup_rounds=1)
