"""A weld lot: coupons, rings, the decision and its reason in one sentence, what was learnt of the joint."""

from __future__ import annotations

from hoopwright.desk.page.welding import verdicts
from hoopwright.papers.cautions import belonging
from hoopwright.papers.numbers import written
from hoopwright.papers.pictures.gauge import Gauge, gauge
from hoopwright.web.answers import Missing
from hoopwright.web.drawing import screen
from hoopwright.web.evidence import Evidence, Section, table
from hoopwright.web.shell import Page, page
from hoopwright.web.shown import figure_shown, findings_shown
from hoopwright.web.state import Shop
from hoopwright.web.words import count_of


def lot_page(shop: Shop, name: str) -> tuple[Page, Evidence]:
    """One weld lot."""
    every = verdicts(shop.job)
    found = next((v for v in every if v.lot == name), None)
    if found is None:
        raise Missing(f"No weld lot {name[:40]} is in the readings", ", ".join(v.lot for v in every) or "none yet")
    now = shop.job.current()
    at = (now.liner.id, now.name)
    said = f"{found.sentence.rstrip('.')}: {found.reason.rstrip('.')}."
    head = page(shop, "readings", f"Weld lot {name}", f"What came out? Weld lot {name}", said)
    coupons = table(
        "Coupons across the weld, share of the parent's strength",
        ("coupon", "ratio %", "each at least 95 %", "broke in", ""),
        [
            (
                c.id, written(100 * c.ratio, 1),
                screen(gauge(Gauge(None, 95.0, None, measured=100 * c.ratio, digits=0), 30.0)),
                c.fracture, "holds" if c.passed else f"fails: {c.cause}" if c.cause else "fails",
            )
            for c in found.coupons
        ],
        (1,),
    )  # fmt: skip
    rings = table(
        "Rings of the lot", ("ring", "state", "why", "joint shrank mm"),
        [(r.serial, r.state, r.reason, written(r.shrinkage_mm, 2)) for r in found.rings], (3,),
    )  # fmt: skip
    odds = table(
        "How often each rule of retest releases a lot, %",
        ("rule", "good lot", "fair lot", "poor lot", "one in ten bad"),
        [
            (str(o.rule), *(written(100 * v, 0) for v in (o.good, o.fair, o.poor, o.tenth_bad)))
            for o in found.odds
        ],
        (1, 2, 3, 4),
    )  # fmt: skip
    sections = (
        Section("Coupons", tables=(coupons,)),
        Section("Rings", tables=(rings,)),
        Section("Figures", figures=tuple(figure_shown(f, at) for f in found.figures)),
        Section("The rule of retest", tables=(odds,)),
    )
    return head, Evidence(
        sections, findings_shown(found.findings), count_of(found.findings, " on this lot"), cautions=belonging(["weld"])
    )
