"""Change fragments are well formed, and a release joins them."""

from __future__ import annotations

from pathlib import Path

import pytest
from repository import ROOT

from house import changelog
from house.say import Missing


@pytest.mark.parametrize("path", changelog.fragments(ROOT / "changelog.d"), ids=lambda path: path.name)
def test_fragment_is_well_formed(path: Path) -> None:
    fragment = changelog.read(path)
    assert fragment.category in changelog.CATEGORIES
    assert fragment.text.endswith(".")


def test_nothing_else_lies_in_the_folder() -> None:
    assert [p.name for p in (ROOT / "changelog.d").iterdir() if p.suffix != ".md"] == []


@pytest.mark.parametrize(
    ("text", "why"), [("new\nA thing.\n", "must be one of"), ("added\n\n", "no text"), ("", "must be one of")]
)
def test_a_bad_fragment_is_refused(tmp_path: Path, text: str, why: str) -> None:
    path = tmp_path / "x.md"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ValueError, match=why):
        changelog.read(path)


def fill(root: Path, **texts: str) -> None:
    folder = root / "changelog.d"
    folder.mkdir(exist_ok=True)
    (folder / "README.md").write_text("how", encoding="utf-8")
    for name, text in texts.items():
        (folder / f"{name}.md").write_text(text, encoding="utf-8")


def test_fragments_are_joined_newest_version_on_top(tmp_path: Path) -> None:
    fill(tmp_path, b="fixed\nThe gap\nis right.\n", a="added\nA pin.\n", c="added\nA base.\n")
    assert changelog.join(tmp_path, "0.1.0", "2026-01-02") == 3
    first = "## 0.1.0, 2026-01-02\n\n### Added\n\n- A pin.\n- A base.\n\n### Fixed\n\n- The gap is right.\n"
    log = tmp_path / "CHANGELOG.md"
    assert log.read_text(encoding="utf-8") == f"# Changes\n\n{first}"
    assert [p.name for p in (tmp_path / "changelog.d").iterdir()] == ["README.md"]
    fill(tmp_path, d="removed\nThe lever.\n")
    changelog.join(tmp_path, "0.2.0", "2026-02-03")
    second = "## 0.2.0, 2026-02-03\n\n### Removed\n\n- The lever.\n"
    assert log.read_text(encoding="utf-8") == f"# Changes\n\n{second}\n{first}"


def test_a_release_that_makes_no_sense_is_refused(tmp_path: Path) -> None:
    fill(tmp_path, a="added\nA pin.\n")
    with pytest.raises(Missing, match="is no version"):
        changelog.join(tmp_path, "next")
    changelog.join(tmp_path, "1.0.0", "2026-01-02")
    with pytest.raises(Missing, match="stands in CHANGELOG"):
        changelog.join(tmp_path, "1.0.0")
    with pytest.raises(Missing, match="no fragment"):
        changelog.join(tmp_path, "1.0.1")
