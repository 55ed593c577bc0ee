"""A file of the package that the wheel lacks is named."""

from __future__ import annotations

import zipfile
from pathlib import Path

from house.wheel import left_out, package_files


def test_a_card_left_out_is_named(tmp_path: Path) -> None:
    package = tmp_path / "hoopwright"
    (package / "cards" / "__pycache__").mkdir(parents=True)
    for name in ("__init__.py", "cards/steel.toml", "cards/__pycache__/x.pyc"):
        (package / name).write_text("", encoding="utf-8")
    assert package_files(package) == {"hoopwright/__init__.py", "hoopwright/cards/steel.toml"}
    wheel = tmp_path / "w.whl"
    with zipfile.ZipFile(wheel, "w") as archive:
        archive.writestr("hoopwright/__init__.py", "")
    assert left_out(wheel, package) == ["hoopwright/cards/steel.toml"]
    with zipfile.ZipFile(wheel, "a") as archive:
        archive.writestr("hoopwright/cards/steel.toml", "")
    assert left_out(wheel, package) == []
