"""Generated pages: written where stale, left alone where fresh, and every page is in the index."""

from __future__ import annotations

from pathlib import Path

import pytest
from repository import ROOT

from docs import generate


def page() -> str:
    """A page made by this test."""
    return "# Page ×\n\n"


@pytest.fixture
def registry(monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    monkeypatch.setattr(generate.importlib, "import_module", lambda name: __import__(__name__))
    return {"docs/page.md": "this:page"}


def test_written_once_and_then_fresh(tmp_path: Path, registry: dict[str, str]) -> None:
    assert generate.stale(registry, tmp_path) == ["docs/page.md"]
    assert generate.write(registry, tmp_path) == ["docs/page.md"]
    assert (tmp_path / "docs" / "page.md").read_bytes() == "# Page ×\n".encode()
    assert generate.write(registry, tmp_path) == []


def test_a_changed_page_is_stale(tmp_path: Path, registry: dict[str, str]) -> None:
    generate.write(registry, tmp_path)
    (tmp_path / "docs" / "page.md").write_text("# Page x\n", encoding="utf-8")
    assert generate.stale(registry, tmp_path) == ["docs/page.md"]


def test_every_page_is_in_the_index() -> None:
    index = (ROOT / "docs" / "README.md").read_text(encoding="utf-8")
    pages = [path.relative_to(ROOT / "docs").as_posix() for path in (ROOT / "docs").rglob("*.md")]
    assert [name for name in pages if name != "README.md" and f"({name})" not in index] == []


def test_every_link_of_the_index_leads_somewhere() -> None:
    import re

    index = (ROOT / "docs" / "README.md").read_text(encoding="utf-8")
    links = re.findall(r"\]\(([^)#:]+)", index)
    assert links
    assert [link for link in links if not (ROOT / "docs" / link).exists()] == []
