"""Where a figure to explain is taken from: a plan.json as written, or a liner file planned anew."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from hoopwright.design.demo import demo_liner
from hoopwright.design.liner_reading import cards_folder, read_liner
from hoopwright.design.opening import read_bytes
from hoopwright.design.shapes import Liner
from hoopwright.errors import Fault, FileFaults
from hoopwright.findings import Band, Figure, Input, Source
from hoopwright.plan.hot.hot_plan import plan_hot
from hoopwright.plan.json_shapes import SCHEMA
from hoopwright.plan.liner_plan import plan_liner
from hoopwright.plan.ring_plan import plan_ring
from hoopwright.plan.shelf import Shelf

PRESSED = ("blank", "port", "flanges", "press-pads", "press-flanges", "trim", "plate")
"""Chapters of a plate's figures that the plan of its pressing gives."""


def figures_for(identity: str, of: Path | None, shop_folder: Path | None = None) -> tuple[Figure, ...]:
    """Figures among which the one asked for should be.

    Parameters
    ----------
    identity : its first word names the ring, so that only this ring is planned.
    of : a liner file, or a plan.json; the demonstration liner where None.

    Raises
    ------
    InputError, FileFaults, CardError
        See `read_liner` and `plan_ring`; a JSON file that is no plan of this program.
    """
    if of is not None and of.suffix == ".json":
        return figures_in(of)
    liner = demo_liner() if of is None else read_liner(of, shop_folder)
    folder = shop_folder or (cards_folder(of) if of is not None else None)
    part, _, rest = identity.partition("/")
    if liner.end_plate is not None and part == liner.end_plate.id and rest.partition("/")[0] in PRESSED:
        # press runs of the plate bring compiled kernels in, which nothing else here needs
        from hoopwright.plan.plate.plate_plan import plan_plate

        return plan_plate(liner, Shelf(folder)).figures
    if (liner.thermal is not None and part not in {ring.id for ring in liner.rings}) or "/constraint/" in identity:
        hot = plan_hot(liner, folder).figures
        if any(figure.identity == identity for figure in hot):
            return hot
        # a value of a card: whichever figure rests on it knows it
        return (*hot, *(figure for ring in plan_liner(liner, Shelf(folder)).rings for figure in ring.figures))
    if rest.startswith("segments-run/"):
        # the hoop kernel is heavy to load, and no figure of a plan needs it
        from hoopwright.desk.sizing import figures_on_segments

        return figures_on_segments(plan_ring(liner, part, Shelf(folder)))
    return ring_figures(liner, part, Shelf(folder), Path.cwd() if of is None else of.absolute().parent)


def ring_figures(liner: Liner, ring: str, shelf: Shelf, home: Path) -> tuple[Figure, ...]:
    """Figures of one ring, with its proof where one is kept in the folder of the job."""
    if not (home / ".hoopwright" / "proofs").is_dir():
        return plan_ring(liner, ring, shelf).figures
    # the kernels of a proof run are heavy to load: only a job that has proofs needs them
    from hoopwright.desk.proving import kept_proof
    from hoopwright.plan.job import ring_job
    from hoopwright.plan.prove.key import proof_key
    from hoopwright.plan.ring_plan import mark_of

    key = proof_key(mark_of(ring_job(liner, ring, shelf)))
    return plan_ring(liner, ring, shelf, proof=kept_proof(home, ring, key)).figures


def figures_in(path: Path) -> tuple[Figure, ...]:
    """Every figure of a plan.json, as it was written."""
    content = read_bytes(path)
    try:
        data = json.loads(content)
        if data["schema"] != SCHEMA:
            raise KeyError(data["schema"])
        return tuple(_figure(row) for ring in data["rings"] for row in ring["figures"])
    except (ValueError, KeyError, TypeError) as problem:
        must = f'a plan.json with "schema": "{SCHEMA}"'
        remedy = "name the plan.json that hoopwright plan wrote, or the liner file"
        raise FileFaults(str(path), [Fault("file", f"not understood ({problem})", "", must, remedy)]) from None


def _figure(row: dict[str, Any]) -> Figure:
    band = row["band"]
    return Figure(
        row["identity"],
        row["name"],
        row["value"],
        row["unit"],
        _source(row["source"]),
        row["digits"],
        None if band is None else Band(band["low"], band["high"], band["how"], band["inside_pct"]),
        row["formula"],
        tuple(
            Input(i["symbol"], i["name"], i["value"], i["unit"], _source(i["source"]), i["figure"])
            for i in row["inputs"]
        ),
        row["note"],
    )


def _source(row: dict[str, Any]) -> Source:
    return Source(row["basis"], row["where"], row["invented"])
