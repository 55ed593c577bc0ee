"""What if it changes? Tools to rework, parts to stretch again, new sizes, steps by the day."""

from __future__ import annotations

from typing import Any

from markupsafe import Markup, escape

from hoopwright.desk.page.changing import Changing, changing
from hoopwright.papers.cautions import belonging
from hoopwright.papers.drawing.items import Drawing, Path, rectangle
from hoopwright.papers.numbers import figure_text, written
from hoopwright.papers.pictures.gauge import Gauge, gauge
from hoopwright.papers.pictures.work_days import work_days
from hoopwright.web.drawing import screen
from hoopwright.web.evidence import Evidence, Section, table
from hoopwright.web.shell import Page, page
from hoopwright.web.shown import findings_shown
from hoopwright.web.state import Shop
from hoopwright.web.words import count_of

SHOWN_LINES = 200


def change_page(shop: Shop, before: str, after: str) -> tuple[Page, Evidence]:
    """From one revision to another."""
    found = changing(shop.job, before, after)
    what = found.change.text if found.change is not None else f"Revision {before} to {after}"
    head = page(
        shop, "change", f"{shop.job.current().liner.id}: what if it changes?",
        f"What happens if it changes? {what}", found.answer, before, on=found.rings,
        more=("proposed, not accepted",) if found.change is not None else (),
    )  # fmt: skip
    if found.impact is not None:
        return head, _impact(found)
    return head, _compared(found)


def stock_bar(off: float, stock: float | None) -> Markup:
    """How much of the stock a regrind takes."""
    if not stock:
        return Markup("")
    share = min(1.0, off / stock)
    frame, filled = rectangle(0.0, 0.0, 18.0, 1.6), rectangle(0.0, 0.0, max(18.0 * share, 0.2), 1.6)
    items = (Path(filled, None, "ink", True), Path(frame, "fine", None, True))
    words = f"{written(off, 2)} of {written(stock, 2)} mm"
    return screen(Drawing(items, words), 1.0, (-0.2, -0.2, 18.2, 1.8))


def _impact(found: Changing) -> Evidence:
    impact = found.impact
    assert impact is not None and found.change is not None
    touched = [t for t in impact.tools if t.verdict != "unaffected"]
    rest = ", ".join(t.tool for t in impact.tools if t.verdict == "unaffected")
    tools = table(
        f"{len([t for t in touched if t.verdict != 'note'])} to rework, {len(impact.tools) - len(touched)} untouched",
        ("tool", "verdict", "why", "off, of stock", ""),
        [
            (t.tool, t.verdict, t.reason,
             f"{written(_off(t), 3)} of {written(t.stock_mm, 2)}" if t.stock_mm else "", stock_bar(_off(t), t.stock_mm))
            for t in touched
        ],
        (3,),
    )  # fmt: skip
    parts = table(
        "Parts", ("part", "verdict", "stretch %", "why"),
        [(p.serial, p.verdict, written(100 * p.strain_log, 3, True), p.reason) for p in impact.parts], (2,),
    )  # fmt: skip
    sizes = table(
        "New control sizes, mm", ("part", "size", "was", "becomes"),
        [(c.part, c.name.replace("_", " "), written(c.old_mm, 2), written(c.new_mm, 2)) for c in impact.controls],
        (2, 3),
    )  # fmt: skip
    slots = table(
        "Slots, mm",
        ("joint", "was", "becomes"),
        [(n, written(a, 2), written(b, 2)) for n, a, b in impact.slots],
        (1, 2),
    )
    sections = [
        Section("Tools", tables=(tools,), text=Markup("Untouched: ") + escape(rest) + "."),
        Section("Two ways to move the segments", tables=(_ways(found),)),
        Section("Parts and sizes", tables=(parts, sizes, slots)),
    ]
    for number, plan in enumerate(impact.plans):
        title = (
            "Plan, the grinder in the order given" if number == 0 else "Plan, the order that is done soonest on average"
        )
        steps = [(m.name, m.date) for m in plan.milestones]
        if steps and found.change.start_date is not None:
            sections.append(Section(title, (screen(work_days(found.change.start_date, steps)),)))
    first = table("A partial first article is due for", ("part", "characteristic"), impact.first_article)
    papers = table("Papers and programs to make anew", ("for", "what", "why"), impact.papers)
    sections.append(Section("Inspection and papers", tables=(first, papers)))
    return Evidence(
        tuple(sections),
        findings_shown(impact.findings),
        count_of(impact.findings, ""),
        cautions=belonging(["size", "grind"]),
    )


def _off(tool: Any) -> float:
    return float(max(tool.recut.grind_mm) if tool.recut is not None else abs(tool.change_mm))


def _ways(found: Changing) -> Any:
    assert found.impact is not None
    rows = [
        (
            t.tool, "rework: grind all but the changed zone, run over-open", written(t.recut.lobes_mm, 3),
            screen(gauge(Gauge(t.recut.lobes_mm, None, t.recut.limit_mm, digits=3), 34.0)),
        )
        for t in found.impact.tools
        if t.recut is not None
    ]  # fmt: skip
    days = found.change.durations.new_segment_set_days if found.change is not None else None
    rows.append(("new sets", f"{written(days, 0)} working days" if days else "days not given", "0.000", Markup("")))
    return table("Lobes that each way prints, mm", ("set", "way", "lobes", "against the house's share"), rows, (2,))


def _compared(found: Changing) -> Evidence:
    figures = table(
        "Figures of the plans that move", ("figure", f"in {found.before}", f"in {found.after}", "moves by"),
        [
            (d.after.identity, figure_text(d.before), figure_text(d.after),
             written(d.after.value - d.before.value, d.after.digits, True))
            for d in found.figures[:300]
        ],
        (1, 2, 3),
    )  # fmt: skip
    lines = table(
        "Lines that differ", ("", "line"), [(line[:1], line[1:].strip()) for line in found.lines[:SHOWN_LINES]]
    )
    return Evidence((Section("What moves", tables=(figures,)), Section("The files", tables=(lines,))), (), "")
