"""Files of one tool's bodies from its forms alone; light enough for a second process to be ready early."""

from __future__ import annotations

import dataclasses
import datetime as dt
import json

from hoopwright.cards.toolroom import ToolRoom
from hoopwright.findings import Check, Finding
from hoopwright.tools.small_checks import check_pin
from hoopwright.tools.solids import glb_bytes, step_bytes, stl_bytes
from hoopwright.tools.taper_pin import PinForm
from hoopwright.tools.tool_solids import ToolForms, solids_of


def solid_files(
    forms: ToolForms, kind: str, date: dt.date
) -> tuple[dict[str, bytes], tuple[Check, ...], tuple[Finding, ...]]:
    """STEP, glb and STL of one tool with its standing checks as JSON."""
    made = solids_of(forms, kind)
    files: dict[str, bytes] = {}
    for stem, bodies in made.files:
        files[f"{stem}.step"] = step_bytes(bodies, stem, date)
        if not stem.endswith("-as-ground"):
            # nobody prints or looks at the set between its spacers: STEP alone is for the grinder's programme
            files[f"{stem}.glb"] = glb_bytes(bodies)
            files[f"{stem}.stl"] = stl_bytes(bodies)
    files[f"{made.tool}-checks.json"] = checks_json(made.tool, forms.mark, made.checks)
    return files, made.checks, made.findings


def pin_solid_files(
    pin: PinForm, room: ToolRoom, mark: str, date: dt.date
) -> tuple[dict[str, bytes], tuple[Check, ...], tuple[Finding, ...]]:
    """STEP, glb and STL of a liner's pin with its standing checks as JSON."""
    checked = check_pin(pin.name, pin, room)
    files = {
        f"{pin.name}.step": step_bytes(checked.bodies, pin.name, date),
        f"{pin.name}.glb": glb_bytes(checked.bodies),
        f"{pin.name}.stl": stl_bytes(checked.bodies),
        f"{pin.name}-checks.json": checks_json(pin.name, mark, checked.checks),
    }
    return files, checked.checks, checked.findings


def checks_json(tool: str, mark: str, checks: tuple[Check, ...]) -> bytes:
    """Standing checks as JSON."""
    rows = [{**dataclasses.asdict(check), "ok": check.ok} for check in checks]
    return (json.dumps({"tool": tool, "inputs": mark, "checks": rows}, indent=1, ensure_ascii=False) + "\n").encode()
