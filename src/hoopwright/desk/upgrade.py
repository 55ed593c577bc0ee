"""Bring a file of an earlier format up to today's, and say what was assumed."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from hoopwright.design.opening import open_file
from hoopwright.design.upgrade import upgrade_text
from hoopwright.desk.folders import write_whole


@dataclass(frozen=True, slots=True)
class Upgraded:
    """Files written, and every assumption made on the way."""

    written: tuple[Path, ...]
    assumed: tuple[str, ...]


def upgrade(old: Path, folder: Path) -> Upgraded:
    """Read an earlier schema and write today's files into a folder, whole or not at all.

    Raises
    ------
    FileFaults
        The file cannot be read, is of no earlier schema, or is faulty in it.
    InputError
        The folder holds other things already.
    """
    result = upgrade_text(open_file(old).text, str(old))
    written = write_whole(folder, {name: text.encode() for name, text in result.files.items()})
    return Upgraded(written, result.assumed)
