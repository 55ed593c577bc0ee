"""The demonstration liner that comes with the program. Everything about it is invented."""

from __future__ import annotations

from importlib.resources import files

from hoopwright.design.liner_reading import liner_from_text
from hoopwright.design.shapes import Liner

DEMO_FILES = ("liner.toml", "register.toml", "readings.toml", "changes.toml")


def demo_text(name: str) -> str:
    """Text of one of `DEMO_FILES`."""
    return (files("hoopwright.design") / "data" / "demo" / name).read_text(encoding="utf-8")


def demo_liner() -> Liner:
    """The demonstration liner HD-400."""
    return liner_from_text(demo_text("liner.toml"), "demo liner.toml")
