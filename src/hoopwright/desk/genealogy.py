"""Where a part came from: cast, sheet, weld lot and coupons, every operation with its tool, readings, build."""

from __future__ import annotations

from hoopwright.papers.release.shapes import Link
from hoopwright.records import Store
from hoopwright.records.judging import Concession, Release
from hoopwright.records.making import Build, Operation, Part, Reading, Tool
from hoopwright.records.material import Cast, Coupon, Sheet, WeldLot
from hoopwright.records.shape import Pairs


def settings_words(settings: Pairs) -> str:
    """Settings in a line."""
    return ", ".join(f"{name} {value:g}" if isinstance(value, float) else f"{name} {value}" for name, value in settings)


def genealogy(store: Store, serial: str, depth: int = 0) -> tuple[Link, ...]:
    """The whole line of a serial, from the cast to the build."""
    kept = store.get(Part, serial)
    part = kept.thing
    links = [Link(depth, part.part, serial, f"revision {part.revision}, {part.state}" + _noted(part.note))]
    links += _material(store, part, depth + 1)
    for operation in sorted((k.thing for k in store.list(Operation, serial=serial)), key=lambda o: o.done_at):
        links += _operation(store, operation, depth + 1)
    for concession in store.list(Concession, serial=serial):
        c = concession.thing
        links.append(Link(depth + 1, "concession", c.id, f"{c.characteristic}, {c.state}, {c.signed_by or 'unsigned'}"))
    for release in store.list(Release, about_kind="part", about=serial):
        r = release.thing
        links.append(Link(depth + 1, "release", r.id, f"{r.signed_by}, {r.office}, {r.signed_at:%Y-%m-%d}, {r.state}"))
    if part.build is not None:
        build = store.get(Build, part.build).thing
        links.append(Link(depth + 1, "build", build.id, f"place {part.place}, {build.state}"))
    return tuple(links)


def _noted(note: str) -> str:
    return f"; {note}" if note else ""


def _material(store: Store, part: Part, depth: int) -> list[Link]:
    links: list[Link] = []
    sheet = store.get(Sheet, part.sheet).thing if part.sheet is not None else None
    cast_id = part.cast or (sheet.cast if sheet is not None else None)
    if cast_id is not None:
        cast = store.get(Cast, cast_id).thing
        paper = f"certificate {cast.certificate}" if cast.certificate else "no certificate recorded"
        links.append(Link(depth, "cast", cast.id, f"{paper}, {cast.state}" + _noted(cast.note)))
    else:
        links.append(Link(depth, "cast", "not recorded", "which sheet it was cut from is not in the records"))
    if sheet is not None:
        links.append(Link(depth, "sheet", sheet.id, f"{sheet.thickness_mm:g} mm, {sheet.state}"))
    if part.weld_lot is not None:
        lot = store.get(WeldLot, part.weld_lot).thing
        procedure = f", procedure {lot.procedure}" if lot.procedure else ""
        links.append(Link(depth, "weld lot", lot.id, f"{lot.state}{procedure}"))
        for coupon in store.list(Coupon, lot=lot.id):
            c = coupon.thing
            links.append(Link(depth + 1, "coupon", c.id, f"{c.tensile_MPa:.0f} MPa" + _noted(c.fracture)))
    return links


def _operation(store: Store, operation: Operation, depth: int) -> list[Link]:
    readings = store.list(Reading, operation=operation.id)
    day, by = f"{operation.done_at:%Y-%m-%d}", operation.done_by
    with_tool = f", on {operation.tool}" if operation.tool else ""
    words = f"{day}, {by}{with_tool}"
    settings = settings_words(tuple((n, v) for n, v in operation.settings if v != operation.tool))
    links = [Link(depth, operation.step, operation.tool or "", words + (f"; {settings}" if settings else ""))]
    for kept in readings:
        r = kept.thing
        value = f"{r.value:.3f} {r.unit}" if r.value is not None else f"{len(r.series)} numbers"
        doubt = f" ± {r.expanded:.3f}" if r.expanded is not None else ""
        state = f", {r.standing}" if r.standing != "stands" else ""
        links.append(Link(depth + 1, r.what, r.characteristic, f"{value}{doubt}, {r.taken_by}{state}"))
    return links


def tools_of(store: Store, serial: str) -> tuple[tuple[str, str, str, str, str], ...]:
    """Step, tool, revision of the tool as it was then, settings, who, of every operation."""
    rows = []
    for operation in sorted((k.thing for k in store.list(Operation, serial=serial)), key=lambda o: o.done_at):
        revision = ""
        if operation.tool is not None:
            then = [e.body["revision"] for e in store.history(Tool, operation.tool) if e.at <= operation.done_at]
            revision = str(then[-1]) if then else store.get(Tool, operation.tool).thing.revision
        named = str(dict(operation.settings).get("segment_set", ""))
        settings = settings_words(tuple((n, v) for n, v in operation.settings if n != "segment_set"))
        rows.append((operation.step, operation.tool or named, revision, settings, operation.done_by))
    return tuple(rows)
