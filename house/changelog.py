"""Change fragments: one small file for each change in `changelog.d`, joined into CHANGELOG.md at a release."""

from __future__ import annotations

import re
import time
from dataclasses import dataclass
from pathlib import Path

from house.say import Missing, line

CATEGORIES = ("added", "changed", "fixed", "removed")
HEAD = "# Changes\n"


@dataclass(frozen=True, slots=True)
class Fragment:
    """One change: its category and its sentence or two."""

    category: str
    text: str


def read(path: Path) -> Fragment:
    """Read a fragment: first line the category, then the text.

    Raises
    ------
    ValueError
        Where the first line is no category, or no text follows.
    """
    first, _, rest = path.read_text(encoding="utf-8").partition("\n")
    if first.strip() not in CATEGORIES:
        raise ValueError(f"{path.name}: the first line is {first.strip()!r}; it must be one of {', '.join(CATEGORIES)}")
    if not rest.strip():
        raise ValueError(f"{path.name}: no text follows the category; say what changed, for the person who uses it")
    return Fragment(first.strip(), " ".join(rest.split()))


def fragments(folder: Path) -> list[Path]:
    """The fragment files of a folder, by name."""
    return sorted(path for path in folder.glob("*.md") if path.name != "README.md")


def section(version: str, day: str, changes: list[Fragment]) -> str:
    """The part of the change log for one version."""
    parts = [f"## {version}, {day}\n"]
    for category in CATEGORIES:
        texts = [f"- {change.text}\n" for change in changes if change.category == category]
        if texts:
            parts.append(f"### {category.capitalize()}\n\n" + "".join(texts))
    return "\n".join(parts)


def join(root: Path, version: str, day: str | None = None) -> int:
    """Join the fragments into CHANGELOG.md, newest version on top, and take them away; how many there were.

    Raises
    ------
    Missing
        Where the version is not of the form 1.2.3, stands in the change log already, or there is no fragment.
    """
    if not re.fullmatch(r"\d+\.\d+\.\d+", version):
        raise Missing(f"{version!r} is no version.", "give three numbers, like 1.2.3")
    log = root / "CHANGELOG.md"
    old = log.read_text(encoding="utf-8") if log.exists() else HEAD
    if f"\n## {version}," in old:
        raise Missing(f"version {version} stands in CHANGELOG.md already.", "give the next version")
    paths = fragments(root / "changelog.d")
    if not paths:
        raise Missing("there is no fragment in changelog.d.", "add one for each change (changelog.d/README.md)")
    new = section(version, day or time.strftime("%Y-%m-%d"), [read(path) for path in paths])
    log.write_text(f"{HEAD}\n{new}{old.removeprefix(HEAD)}", encoding="utf-8", newline="\n")
    for path in paths:
        path.unlink()
    line(f"{len(paths)} changes joined into CHANGELOG.md")
    return len(paths)
