"""Does it fit? Every lap on its gauge, the coupled choice, the obvious fix and what it breaks, seams by the clock."""

from __future__ import annotations

from hoopwright.desk.page.board import Lap
from hoopwright.desk.page.fitting import fitting
from hoopwright.papers.cautions import belonging
from hoopwright.papers.numbers import written
from hoopwright.papers.pictures.clocking import clocking_chart
from hoopwright.papers.pictures.gauge import Gauge, gauge
from hoopwright.web.drawing import screen
from hoopwright.web.evidence import Evidence, Section, Table, table
from hoopwright.web.shell import Page, page
from hoopwright.web.shown import findings_shown
from hoopwright.web.state import Shop
from hoopwright.web.words import count_of


def fits_page(shop: Shop, revision: str) -> tuple[Page, Evidence]:
    """Fits and clocking."""
    found = fitting(shop.job, revision)
    now = shop.job.revision(revision)
    rings = tuple(ring.id for ring in now.liner.rings)
    head = page(
        shop, "fits", f"{now.liner.id}: does it fit?", "Does it fit, and which ring is to be stretched?", found.answer,
        now.name, on=rings,
    )  # fmt: skip
    tables: list[Table] = []
    if found.fits is not None:
        for number, choice in enumerate(found.fits.choices[:2]):
            title = "The choice that mends every lap" if number == 0 else "The next best choice"
            tables.append(
                table(
                    f"{title}: all limits truly met with a chance of {100 * choice.chance_all:.0f} %",
                    ("ring", "Ø grows by", "strain %", "pin, hand rule", "pin, ours"),
                    [
                        (
                            s.ring, written(s.change_mm, 3, True), written(100 * s.strain_share, 3),
                            written(s.stop_by_hand_mm, 2, True), written(s.stop_mm, 2, True),
                        )
                        for s in choice.stretches
                    ],
                    (1, 2, 3, 4),
                )
            )  # fmt: skip
            margins = dict(choice.margins)
            tables.append(
                table(
                    "What stands then", ("lap or size", "mm", "margin, % of its tolerance"),
                    [(n, written(value, 3), written(100 * margins.get(n, 0.0), 0)) for n, value in choice.after],
                    (1, 2),
                )
            )  # fmt: skip
        rows = [
            (r.joint, f"stretch {r.ring} alone by {written(r.change_mm, 3)}",
             ", ".join(f"{n} would be {written(v, 3)}" for n, v in r.breaks))
            for r in found.fits.rejected
        ]  # fmt: skip
        if rows:
            tables.append(table("The obvious fix, and what it breaks", ("lap", "the obvious fix", "it breaks"), rows))
    seams = table(
        "Seams by their rules: 60° from a neighbour, 30° from any, 3 mm from a hole",
        ("ring", "seam at °", "nearest neighbour °", "nearest hole edge mm", ""),
        [
            (c.ring, f"{c.seam_deg:g}", written(c.neighbour_deg, 0),
             "none" if c.hole_edge_mm > 1e6 else written(c.hole_edge_mm, 2), "clear" if c.ok else "too near")
            for c in found.seams
        ],
        (1, 2, 3),
    )  # fmt: skip
    sections = (
        Section("Radial gap in each lap, mm", tables=(_laps(found.laps),)),
        Section("Which ring to stretch", tables=tuple(tables)),
        Section(
            "Seams by the clock",
            tuple(screen(clocking_chart(f"{side} shell", rows, found.ports_deg)) for side, rows in found.sides if rows),
            (seams,),
        ),
    )
    foot = "End stops: what the weld allows. Diamond measured; bar where the drawing tolerances let it fall."
    return head, Evidence(
        sections, findings_shown(found.findings), count_of(found.findings, ""), foot=foot, cautions=belonging(["size"])
    )


def _laps(laps: tuple[Lap, ...]) -> Table:
    rows = []
    for lap in laps:
        wanted = Gauge(
            lap.nominal_mm if lap.measured_mm is None else None, lap.low_mm, lap.high_mm,
            lap.drawn_low_mm if lap.measured_mm is None else None,
            lap.drawn_high_mm if lap.measured_mm is None else None, lap.measured_mm, 2,
        )  # fmt: skip
        value = "not yet measured" if lap.measured_mm is None else written(lap.measured_mm, 3)
        rows.append((lap.joint, value, screen(gauge(wanted, 44.0, True))))
    return table("Laps, forward to aft", ("lap", "gap", "against its limits"), rows, (1,))
