"""Coupons, life tests, hardness traverses and heights of stacks as CSV files."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

from hoopwright.errors import Fault, FileFaults
from hoopwright.kernels.seam_stats_life import LifeTests
from hoopwright.plan.seam.table_file import flag, numbers, table_rows

Kind = Literal["weld", "parent"]
KINDS: Final = ("weld", "parent")
TENSILE_COLUMNS: Final = ("kind", "tensile_MPa")
TENSILE_MORE: Final = ("fracture", "proof_MPa", "gauge_mm")
LIFE_COLUMNS: Final = ("kind", "amplitude_MPa", "cycles")
HEIGHT_COLUMNS: Final = ("joint", "before_mm", "after_mm")
HARDNESS_COLUMNS: Final = ("place_mm", "hardness_HV")


@dataclass(frozen=True, slots=True)
class TensileCoupon:
    """One tensile coupon. proof_MPa over gauge_mm : None where it was not read; fracture : place, "" unsaid."""

    kind: Kind
    tensile_MPa: float
    fracture: str = ""
    proof_MPa: float | None = None
    gauge_mm: float | None = None


def read_tensile(path: Path) -> tuple[TensileCoupon, ...]:
    """Tensile coupons: kind (weld or parent) and tensile_MPa; fracture, proof_MPa and gauge_mm may be left out.

    Raises
    ------
    InputError, FileFaults
        As the table reader; a proof stress without its gauge length.
    """
    faults: list[Fault] = []
    made: list[TensileCoupon] = []
    for line, row in table_rows(path, TENSILE_COLUMNS, TENSILE_MORE):
        kind = _kind(row.get("kind", ""), line, faults)
        cells = _positive(numbers(row, ("tensile_MPa",), line, faults), ("tensile_MPa",), line, faults)
        given = [name for name in ("proof_MPa", "gauge_mm") if row.get(name, "").strip()]
        if len(given) == 1:
            faults.append(
                Fault(given[0], row[given[0]], "", "beside its gauge length and proof stress", "enter both", line)
            )
        proof = _positive(numbers(row, given, line, faults), given, line, faults) if len(given) == 2 else []
        if kind is not None and len(cells) == 1 and len(proof) in (0, 2):
            rest = (proof[0], proof[1]) if proof else (None, None)
            made.append(TensileCoupon(kind, cells[0], row.get("fracture", "").strip(), *rest))
    if faults:
        raise FileFaults(str(path), faults)
    return tuple(made)


def read_lives(path: Path) -> dict[Kind, LifeTests]:
    """Life tests of weld and parent: kind, amplitude_MPa, cycles; run_out (1 or 0) may be left out.

    Raises
    ------
    InputError, FileFaults
        As the table reader.
    """
    faults: list[Fault] = []
    rows: dict[str, list[tuple[float, float, bool]]] = {kind: [] for kind in KINDS}
    for line, row in table_rows(path, LIFE_COLUMNS, ("run_out",)):
        kind = _kind(row.get("kind", ""), line, faults)
        names = LIFE_COLUMNS[1:]
        cells = _positive(numbers(row, names, line, faults), names, line, faults)
        ran_out = flag(row, "run_out", line, faults)
        if kind is not None and len(cells) == 2:
            rows[kind].append((cells[0], cells[1], ran_out))
    if faults:
        raise FileFaults(str(path), faults)
    return {
        kind: LifeTests([r[0] for r in rows[kind]], [r[1] for r in rows[kind]], [r[2] for r in rows[kind]])
        for kind in ("weld", "parent")
    }


def read_hardness(path: Path) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Places across the weld [mm] and hardness there [HV].

    Raises
    ------
    InputError, FileFaults
        As the table reader.
    """
    faults: list[Fault] = []
    made = [numbers(row, HARDNESS_COLUMNS, line, faults) for line, row in table_rows(path, HARDNESS_COLUMNS)]
    if faults:
        raise FileFaults(str(path), faults)
    return tuple(row[0] for row in made), tuple(row[1] for row in made)


def read_heights(path: Path) -> dict[str, tuple[float, ...]]:
    """Axial pull-in of each joint [mm] from joint, before_mm, after_mm: mean heights before and after a lap.

    Raises
    ------
    InputError, FileFaults
        As the table reader; a row without its joint.
    """
    faults: list[Fault] = []
    made: dict[str, tuple[float, ...]] = {}
    for line, row in table_rows(path, HEIGHT_COLUMNS):
        joint = row.get("joint", "").strip()
        if not joint:
            faults.append(Fault("joint", "empty", "", "a joint of the liner, as J3", "name the lap", line))
        cells = _positive(numbers(row, HEIGHT_COLUMNS[1:], line, faults), HEIGHT_COLUMNS[1:], line, faults)
        if joint and len(cells) == 2:
            made[joint] = (*made.get(joint, ()), cells[0] - cells[1])
    if faults:
        raise FileFaults(str(path), faults)
    return made


def _kind(word: str, line: int, faults: list[Fault]) -> Kind | None:
    kind = word.strip().lower()
    if kind == "weld":
        return "weld"
    if kind == "parent":
        return "parent"
    faults.append(Fault("kind", repr(word), "", "weld or parent", "say which sheet it is", line))
    return None


def _positive(cells: list[float], names: Sequence[str], line: int, faults: list[Fault]) -> list[float]:
    for name, value in zip(names, cells, strict=False):
        if value <= 0.0:
            faults.append(Fault(name, f"{value:g}", "", "above 0", "read it again", line))
    return [value for value in cells if value > 0.0]
