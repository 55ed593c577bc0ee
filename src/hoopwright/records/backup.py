"""Copies of a file of records."""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path

from hoopwright.errors import InputError


def copy_file(source: Path, target: Path) -> None:
    """A consistent copy of a file of records while others go on writing; the copy stands whole or not at all.

    Raises
    ------
    InputError
        There is something at the target already.
    """
    if target.exists():
        raise InputError("copy", str(target), "", "a new file", "name another, or move the old one away")
    beside = target.with_name(f".{target.name}.part")
    beside.unlink(missing_ok=True)
    one, two = sqlite3.connect(source), sqlite3.connect(beside)
    try:
        one.backup(two)
    finally:
        one.close()
        two.close()
    os.replace(beside, target)
