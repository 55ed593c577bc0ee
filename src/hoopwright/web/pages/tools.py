"""Which tools? What to turn, grind and cut for a ring, in which state each tool is, and the solid to turn about."""

from __future__ import annotations

from markupsafe import Markup

from hoopwright.desk.page.board import tool_stand
from hoopwright.desk.page.papers import ring_tools
from hoopwright.papers.cautions import belonging
from hoopwright.papers.numbers import written
from hoopwright.papers.pictures.roll_contours import pair_drawing
from hoopwright.papers.pictures.segments import polar_drawing, profile_drawing
from hoopwright.papers.tools_from_plan import rolls_of, segments_of
from hoopwright.web.answers import Missing
from hoopwright.web.drawing import screen
from hoopwright.web.evidence import Evidence, Section, link, table
from hoopwright.web.shell import Page, page
from hoopwright.web.shown import figure_shown, findings_shown
from hoopwright.web.state import Shop
from hoopwright.web.words import count_of

TOOL_TOPICS = ("segments", "press", "roll", "stop")


def tools_page(shop: Shop, ring: str, revision: str) -> tuple[Page, Evidence]:
    """Tools of a ring."""
    tools = ring_tools(shop.job, ring, revision)
    plan, name = tools.plan, shop.job.revision(revision).name
    own = [t for t in shop.job.register().tools if t.serves == ring]
    live = [t for t in own if t.state == "proven"]
    said = (
        f"{len(live)} of {len(own)} tools of {ring} in the register are proven. "
        f"The set is ground to R {written(plan.figure('segments/radius-largest').value, 3)} at its largest, with slots "
        f"open {written(plan.sizing.segments.slot_mm, 2)}."
    )
    head = page(shop, "tools", f"{ring}: which tools?", f"Which tools does {ring} need?", said, name, ring)
    at = (plan.job.liner.id, name)
    segments, rolls = segments_of(plan), rolls_of(plan)
    radii = table(
        "Control radii at 20 °C, mm", ("place", "z", "ring free", "loaded", "segment"),
        [
            (c.name, written(c.z_mm, 1), *(written(r, 3) for r in (c.ring_free_mm, c.ring_loaded_mm, c.segment_mm)))
            for c in segments.controls
        ],
        (1, 2, 3, 4),
    )  # fmt: skip
    made = table(
        "Tools to make", ("tool", "what", "pieces", "hours", "steel kg", "regrinds left mm"),
        [
            (m.id, m.kind, m.pieces, written(m.cost.hours, 0), written(m.amounts.steel_kg, 1),
             written(m.life.total_mm - m.life.used_mm, 2) if m.life is not None else "")
            for m in tools.made
        ],
        (2, 3, 4, 5),
    )  # fmt: skip
    states = table(
        "In the register", ("tool", "what", "state", "hits", "note"),
        [(link(f"/tool/{t.id}@{t.revision}", t.id), t.kind, tool_stand(t).word, t.hits, t.note) for t in own], (3,),
    )  # fmt: skip
    figures = tuple(
        figure_shown(f, at) for f in plan.figures if f.identity.split("/")[1] in ("segments", "press", "stop")
    )
    solid = f"/out/{ring}@{name}/solid/"
    sections = (
        Section("Segment set, loaded position", (screen(profile_drawing(segments, 2.0), 2.0),), (radii,), anchor="S"),
        Section("From above", (screen(polar_drawing(segments), 0.42),)),
        Section("Roll pair, closed on the sheet", (screen(pair_drawing(rolls.pair, 2.0), 2.0),),
                text=Markup(rolls.words), anchor="R"),
        Section("The set as a solid", solid=solid + "S", text=_files(ring, solid)),
        Section("State and making", tables=(states, made)),
        Section("Figures of set, press and stop", figures=figures),
    )  # fmt: skip
    found = tuple(f for f in plan.findings if f.about.split("/")[1:2] and f.about.split("/")[1] in TOOL_TOPICS)
    return head, Evidence(
        sections,
        findings_shown(found),
        count_of(found, " on its tools"),
        three=True,
        cautions=belonging(["roll", "size", "cut", "anneal", "grind"]),
    )


def _files(ring: str, solid: str) -> Markup:
    words = (("S", "segment set"), ("R", "roll pair"), ("T", "trim plug"), ("W", "weld bars"))
    links = Markup(", ").join(link(f"{solid}{kind}?as=step", f"{said}, STEP") for kind, said in words)
    return Markup("To take along: ") + links + Markup("; drawings stand under “What goes out?”.")


def tool_page(shop: Shop, tool_id: str) -> tuple[Page, Evidence]:
    """One tool of the register."""
    register = shop.job.register()
    tool = next((t for t in register.tools if t.id == tool_id), None)
    if tool is None:
        raise Missing(f"No tool {tool_id[:40]} is in the register", "one of the board")
    stand = tool_stand(tool)
    now = shop.job.current()
    rings = tuple(r.id for r in now.liner.rings if tool.serves in (r.id, "all rings"))
    said = f"{tool.id}, {tool.kind}, is {stand.word}; {tool.hits} parts were made on it."
    head = page(
        shop, "tools", tool.id, f"Where does {tool.id} stand?", said, "", rings[0] if len(rings) == 1 else "", rings
    )
    rows = (
        ("what it is", tool.kind), ("for", tool.serves), ("revision", tool.revision), ("state", tool.state),
        ("stage", tool.stage or "none"), ("hits", tool.hits), ("note", tool.note or "none"),
    )  # fmt: skip
    more = Markup(" ").join(link(f"/{now.liner.id}@{now.name}/{r}/tools", f"its drawings, {r}") for r in rings)
    return head, Evidence((Section("", tables=(table(tool.id, ("", ""), rows),), text=more),), (), "")
