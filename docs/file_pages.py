"""The pages on our file formats: what stands above the heading "Keys" is written by hand, the rest is made here."""

from __future__ import annotations

from pathlib import Path

from docs.file_keys import sections
from hoopwright.design.json_schema import FILES

FOLDER = Path(__file__).resolve().parent / "files"
MARK = "\n## Keys\n"


def page(kind: str) -> str:
    """The whole page of one kind of file."""
    by_hand = (FOLDER / f"{kind}.md").read_text(encoding="utf-8").partition(MARK)[0]
    made = "These tables are made from the program (`python3 start.py docs`); change the meaning of a key there."
    keys = "\n".join(sections(FILES[kind]))
    return f"{by_hand}{MARK}\n{made}\n\n{keys}".rstrip() + "\n"


def liner() -> str:
    """The page on the liner file."""
    return page("liner")


def register() -> str:
    """The page on the tool register."""
    return page("register")


def readings() -> str:
    """The page on readings."""
    return page("readings")


def changes() -> str:
    """The page on changes."""
    return page("changes")
