"""What a plan lets expect at the press, taken into the records from `plan.json`: of each hit, each control size."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from hoopwright.errors import InputError
from hoopwright.process.size_figures import word_of_control
from hoopwright.records import Store, Writing
from hoopwright.records.making import Expectation

LEAST_ROWS = 2


def take_plan(store: Store, write: Writing, file: Path, _: Path | None) -> tuple[str, ...]:
    """Take the expected sizes of every ring of a plan; those of an older plan of the same ring are superseded."""
    try:
        plan = json.loads(file.read_text(encoding="utf-8-sig"))
        new = [e for ring in plan["rings"] for e in _of_ring(plan, ring)]
    except (KeyError, TypeError, IndexError) as lack:
        raise InputError("plan", str(file), "", f"whole ({lack} is missing)", "plan the liner anew") from None
    except json.JSONDecodeError:
        raise InputError(
            "plan", str(file), "", "a plan.json as hoopwright writes it", "name the plan's own file"
        ) from None
    rings = sorted({e.part for e in new})
    older = [k for ring in rings for k in store.list(Expectation, part=ring, state="in force")]
    if older and {(e.part, e.mark) for e in new} <= {(k.thing.part, k.thing.mark) for k in older}:
        return (f"{len(new)} expected sizes are in the records already",)
    for kept in older:
        write.change(kept, state="superseded")
    write.add_all(new)
    said = [f"{len(new)} expected sizes of {', '.join(rings)} are in force"]
    return (*said, f"{len(older)} of an older plan are superseded") if older else tuple(said)


def _of_ring(plan: Mapping[str, Any], ring: Mapping[str, Any]) -> Iterator[Expectation]:
    name = str(ring["ring"])
    figures = {f["identity"].removeprefix(f"{name}/"): f for f in ring["figures"]}
    table = ring["stop_table"]
    if len(table) < LEAST_ROWS:
        raise InputError(f"{name} stop table", len(table), "", "two rows or more", "plan the ring anew")
    across = float(figures["stop/across-per-mm"]["value"])
    segments = round(float(figures["segments/count"]["value"]))
    for place, control in enumerate(ring["controls"]):
        word = word_of_control(control)
        for hit in range(1, int(ring["hits"]) + 1):
            free, loaded = figures[f"size/hit-{hit}/free-{word}"], figures[f"size/hit-{hit}/loaded-{word}"]
            stop = float(figures[f"size/hit-{hit}/stop"]["value"])
            band = free.get("band") or {}
            yield Expectation(
                liner=plan["liner"], revision=plan["revision"], part=name, mark=ring["mark"], hit=hit,
                control=control, stop_mm=stop, loaded_mm=float(loaded["value"]), free_mm=float(free["value"]),
                low_mm=band.get("low"), high_mm=band.get("high"), across_per_mm=across, segments=segments,
                girth_per_mm=_slope(table, "loaded_mm", place), free_per_mm=_slope(table, "free_mm", place),
            )  # fmt: skip


def _slope(table: list[Mapping[str, Any]], column: str, place: int) -> float:
    """What a millimetre of pin adds, from the ends of the stop table."""
    first, last = table[0], table[-1]
    travel = float(last["stop_mm"]) - float(first["stop_mm"])
    return (float(last[column][place]) - float(first[column][place])) / travel
