"""Writing a folder of results whole or not at all: everything is written beside, then moved into place."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path

from hoopwright.errors import InputError

OURS = ".hoopwright-folder"
"""A file that says the folder was written by this program, and may be replaced by it."""


def checked_target(folder: Path, replace: bool = False) -> Path:
    """The folder to write, if it may be written: new, empty, or one this program wrote before.

    Raises
    ------
    InputError
        It is a file, or holds what this program did not write and `replace` was not asked for.
    """
    target = folder.absolute()
    if target.is_file():
        raise InputError("output folder", str(folder), "", "a folder, not a file", "name another folder")
    if target.is_dir() and any(target.iterdir()) and not (target / OURS).is_file() and not replace:
        raise InputError(
            "output folder",
            str(folder),
            "",
            "new, empty, or written by this program before",
            "name another folder; nothing was written",
        )
    return target


def write_whole(folder: Path, files: Mapping[str, bytes], replace: bool = False) -> tuple[Path, ...]:
    """Write all files (path below the folder: content) or none, and give their paths in the order given.

    Raises
    ------
    InputError
        See `checked_target`; also where the folder cannot be written.
    """
    target = checked_target(folder, replace)
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        beside = Path(tempfile.mkdtemp(prefix=f".{target.name}-", dir=target.parent))
    except OSError as problem:
        raise InputError(
            "output folder", str(folder), "", f"a place to write to ({problem.strerror})", "name another"
        ) from None
    try:
        for name, content in {**files, OURS: b"written by hoopwright; it may be replaced by it\n"}.items():
            path = beside / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        _swap(beside, target)
    except BaseException:
        shutil.rmtree(beside, ignore_errors=True)
        raise
    return tuple(target / name for name in files)


def _swap(beside: Path, target: Path) -> None:
    """Put the new folder in the place of the old one; the old one is kept until the new one stands."""
    beside.chmod(0o755)
    if not target.exists():
        os.replace(beside, target)
        return
    aside = beside.with_name(beside.name + "-old")
    os.replace(target, aside)
    try:
        os.replace(beside, target)
    except OSError:
        os.replace(aside, target)
        raise
    shutil.rmtree(aside, ignore_errors=True)
