"""What is said about a ring on its segments: size, roundness, seam, thickness, marks, slots, press."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.design.shapes import Tolerances
from hoopwright.findings import Check, Figure, Finding, Source, judged
from hoopwright.kernels.metal import Metal
from hoopwright.process.face_radius import mean_strain, section_mean
from hoopwright.process.hooping.figures import RUN
from hoopwright.process.hooping.operation import Hooped, SizeOnSegments
from hoopwright.process.shop import ShopCard
from hoopwright.process.size_figures import control_word

MARK_FACTOR = 1.7
MARK_SOURCE = Source(
    "memory", "first yield below a line contact at 1.7 times the yield stress; contact mechanics, from memory"
)


@dataclass(frozen=True, slots=True)
class Drawing:
    """What the drawing asks of the finished ring, and where it says so."""

    tolerances: Tolerances
    source: Source


def hit_findings(
    run: Hooped, operation: SizeOnSegments, figures: dict[str, Figure], drawing: Drawing, card: ShopCard
) -> list[Finding]:
    """Findings of the last hit, and of slots and edges in all of them."""
    part, last = run.incoming.part, run.last.number

    def of(word: str) -> Figure:
        return figures[f"{part}/segments-run/hit-{last}/{word}"]

    found: list[Finding | None] = [*_sizes(operation, of, drawing.source), *_round(part, of, drawing)]
    found += _metal(part, of, drawing, card)
    found += _edges(part, run, of, card.metal)
    found += [_overlap(part, run), _pull(part, of, card), _let_go(part, run)]
    return [one for one in found if one is not None]


def _sizes(operation: SizeOnSegments, of: object, source: Source) -> list[Finding | None]:
    assert callable(of)
    found: list[Finding | None] = []
    for control in operation.controls:
        free: Figure = of(f"free-{control_word(control)}")
        miss = free.value - control.diameter_mm
        remedy = (
            "a ring cannot be shrunk: take the stop back for the next one, and offer this one to a larger mate"
            if miss > 0.0
            else "go on with the pin stop, and index half a pitch"
        )
        check = Check(
            f"{control.name.replace('_', ' ')} comes off inside its tolerance", abs(miss), control.tolerance_mm, "<=",
            "mm", source, "stop", remedy, free.identity,
        )  # fmt: skip
        sentence = (
            f"{control.name.replace('_', ' ')} comes off the segments {miss:+.3f} from {control.diameter_mm:g}; "
            f"the drawing gives {control.tolerance_mm:g}."
        )
        found.append(judged(check, sentence, "segments-size"))
    return found


def _round(part: str, of: object, drawing: Drawing) -> list[Finding | None]:
    assert callable(of)
    held, free = of("held-peak-to-valley"), of("peak-to-valley")
    tolerances = drawing.tolerances
    index = "index half a pitch and hit again, or take more segments"
    rows = (
        (held, tolerances.roundness_restrained_radial_mm, "held", index, "segments-round-held"),
        (free, tolerances.roundness_free_state_radial_mm, "free", "round the hoop up by hand first", "segments-round"),
    )
    found = []
    for figure, limit, word, remedy, topic in rows:
        check = Check(
            f"the ring is round, {word}", figure.value, limit, "<=", "mm", drawing.source, "stop", remedy,
            figure.identity,
        )  # fmt: skip
        found.append(
            judged(check, f"{part} is {figure.value:.3f} out of round {word}; the drawing gives {limit:g}.", topic)
        )
    return found


def _metal(part: str, of: object, drawing: Drawing, card: ShopCard) -> list[Finding | None]:
    assert callable(of)
    thin, used = of("thinnest"), of("limit-used")
    least = drawing.tolerances.thickness_min_after_forming_mm
    in_seam = used.note == "in the seam"
    thinnest = Check(
        "the ring is nowhere thinner than the drawing allows", thin.value, least, ">=", "mm", drawing.source, "stop",
        "put film or paste on the segments, or stretch less", thin.identity,
    )  # fmt: skip
    limit = card.limits.seam_strain_share_max if in_seam else card.limits.strain_budget_share
    strain = Check(
        "no place round the ring passes its strain limit", used.value, 100.0, "<=", "pct", limit.source,
        "stop" if in_seam else "caution",
        "planish the bead, or stretch less" if in_seam else "put film or paste on the segments, or use more hits",
        used.identity,
    )  # fmt: skip
    where = "The seam" if in_seam else "The most worked place"
    return [
        judged(thinnest, f"{part} thins to {thin.value:.3f} round its girth; the drawing wants {least:g}.",
               "segments-thin"),
        judged(strain, f"{where} round {part} uses {used.value:.0f} % of its strain limit.", "segments-strain"),
    ]  # fmt: skip


def _edges(part: str, run: Hooped, of: object, metal: Metal) -> list[Finding | None]:
    assert callable(of)
    pressure = of("edge-pressure")
    worked = section_mean(run.last.loaded, mean_strain(run.last.loaded))
    check = Check(
        "the edges of the segments leave no mark", pressure.value, MARK_FACTOR * metal.flow.stress(worked), "<=",
        "MPa", MARK_SOURCE, "caution", "round the edges of the segments more, or put film on them", pressure.identity,
    )  # fmt: skip
    sentence = (
        f"The edges of the segments press {pressure.value:.0f} MPa into {part}; marks begin at {check.limit:.0f}."
    )
    why = "beside a slot the ring lifts off and bears on the edge alone"
    return [judged(check, sentence, "edge-marks", why) if not check.ok else None]


def _overlap(part: str, run: Hooped) -> Finding | None:
    worst = min(run.hits, key=lambda hit: hit.hoop.slot_gap_at_touch_mm)
    gap = worst.hoop.slot_gap_at_touch_mm
    if gap >= 0.0:
        return None
    return Finding(
        "stop",
        f"When the segments of {part} first touch in hit {worst.number}, they would lie {-gap:.2f} over each other.",
        "widen the slots, or bring the ring closer to size before",
        f"{part}/segments/slot",
        "segments-overlap",
        f"the slots are {run.tool.slot_mm:g} wide and close by 2 sin ( 180 / N ) for each mm of travel",
    )


def _pull(part: str, of: object, card: ShopCard) -> Finding | None:
    assert callable(of)
    pull, most = of("pull"), card.machines.expander.pull_max_kN
    check = Check(
        "the press pulls the pin to size", pull.value, most.value, "<=", "kN", most.source, "stop",
        "lubricate pin and base, or size in a larger press", pull.identity,
    )  # fmt: skip
    return judged(check, f"{part} asks {pull.value:.1f} kN of the pin; the press gives {most.value:g}.", "press-pull")


def _let_go(part: str, run: Hooped) -> Finding | None:
    if run.fibres.let_go_MPa <= 1.0:
        return None
    return Finding(
        "note",
        f"Up to {run.fibres.let_go_MPa:.0f} MPa of residual stress in {part} cannot stand in fibres of one stress.",
        "take the sizes of the section from the walk, the roundness from here",
        f"{part}/segments-run",
        "segments-one-stress",
        f"the {RUN} carries stress round the hoop only",
    )
