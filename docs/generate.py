"""Write the generated pages and schemas, or with `--check` say which are stale.

A page or schema that can be made from the program is made from the program: put its path and its maker into
`GENERATED` and run `python3 start.py docs`. The maker is `module:function`, takes nothing and returns the whole
text of the file. The test run fails while a file differs from what its maker returns.
"""

from __future__ import annotations

import importlib
import sys
from collections.abc import Callable, Mapping
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent

GENERATED: dict[str, str] = {
    "docs/commands.md": "docs.command_reference:hoopwright",
    "docs/pictures/HD-400.svg": "docs.pictures_made:liner",
    "docs/plan-json.md": "docs.plan_keys:page",
    "docs/record-keys.md": "docs.record_keys:page",
    "docs/card-keys.md": "hoopwright.cards.describe:keys_page",
    "docs/schemas/hoopwright-card-1.json": "hoopwright.cards.describe:json_schema",
    "src/hoopwright/plan/data/plan.schema.json": "hoopwright.plan.json_schema:plan_schema",
    "docs/schemas/hoopwright-plan-1.json": "hoopwright.plan.json_schema:plan_schema",
    "docs/hot-json.md": "docs.hot_keys:page",
    "docs/schemas/hoopwright-growth-1.json": "hoopwright.plan.hot.json_schema:growth_schema",
    "docs/schemas/hoopwright-seal-1.json": "hoopwright.plan.hot.json_schema:seal_schema",
    "src/hoopwright/plan/data/growth.schema.json": "hoopwright.plan.hot.json_schema:growth_schema",
    "src/hoopwright/plan/data/seal.schema.json": "hoopwright.plan.hot.json_schema:seal_schema",
    "docs/files/liner.md": "docs.file_pages:liner",
    "docs/files/register.md": "docs.file_pages:register",
    "docs/files/readings.md": "docs.file_pages:readings",
    "docs/files/changes.md": "docs.file_pages:changes",
} | {
    f"{folder}/hoopwright-{kind}-1.json": f"hoopwright.design.json_schema:{kind}_schema"
    for folder in ("docs/schemas", "src/hoopwright/design/data/schemas")
    for kind in ("liner", "register", "readings", "changes")
}


def made(maker: str) -> str:
    """The text a maker (`module:function`) returns, ending in one line feed."""
    module, _, name = maker.partition(":")
    function: Callable[[], str] = getattr(importlib.import_module(module), name)
    return function().rstrip("\n") + "\n"


def stale(generated: Mapping[str, str], root: Path) -> list[str]:
    """Paths whose file is missing or differs from what its maker returns."""

    def differs(path: Path, maker: str) -> bool:
        return not path.exists() or path.read_bytes() != made(maker).encode()

    return [path for path, maker in generated.items() if differs(root / path, maker)]


def write(generated: Mapping[str, str], root: Path) -> list[str]:
    """Write every stale file; their paths."""
    paths = stale(generated, root)
    for path in paths:
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_bytes(made(generated[path]).encode())
    return paths


def main(arguments: list[str]) -> int:
    """Check or write; 1 where a check finds a stale file."""
    if "--check" in arguments:
        paths = stale(GENERATED, ROOT)
        for path in paths:
            print(f"stale: {path}; run `python3 start.py docs`")
        print(f"{len(GENERATED) - len(paths)} of {len(GENERATED)} generated files are fresh")
        return 1 if paths else 0
    for path in write(GENERATED, ROOT):
        print(f"written: {path}")
    print(f"{len(GENERATED)} generated files are fresh")
    return 0


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))
    sys.exit(main(sys.argv[1:]))
