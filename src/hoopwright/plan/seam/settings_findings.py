"""What is said of one weld setting: penetration, widths, mode, and what the figures rest on."""

from __future__ import annotations

from hoopwright.cards.limits import HouseLimits
from hoopwright.findings import Check, Figure, Finding, Source, judged
from hoopwright.kernels.heat_absorbed import CONVENTION
from hoopwright.kernels.heat_absorbed import Source as HeatSource
from hoopwright.kernels.heat_fit import AbsorptionFit
from hoopwright.plan.seam.heat_card import HeatCard

MEMORY_WIDTHS = Source("practice", "common practice, no source: face 0.8 to 2.0 mm, root 0.5 mm or more")


def bead_findings(limits: HouseLimits, t: float, widths: tuple[Figure, ...], source: HeatSource) -> list[Finding]:
    """Whether the bead goes through, is wide enough at the root, not too wide at the face, and in a steady mode."""
    face, root, depth = widths[0], widths[1], widths[2]
    through = Check(
        "the bead melts through",
        depth.value,
        t,
        ">=",
        "mm",
        depth.source,
        "stop",
        "raise the power in steps of 5 %, then weld slower",
        depth.identity,
    )
    wide = Check(
        "the root is wide enough",
        root.value,
        max(0.3, 0.5 * t),
        ">=",
        "mm",
        MEMORY_WIDTHS,
        "caution",
        "raise the power in steps of 5 %",
        root.identity,
    )
    narrow = Check(
        "the face is not too wide",
        face.value,
        0.9 + 0.9 * t,
        "<=",
        "mm",
        MEMORY_WIDTHS,
        "caution",
        "weld faster at the same power",
        face.identity,
    )
    said = (
        (through, f"The bead is {depth.value:.2f} mm deep in {t:.2f} mm sheet.", "weld-penetration"),
        (wide, f"The root is {root.value:.2f} mm wide; {wide.limit:.2f} mm is wanted.", "weld-root"),
        (narrow, f"The face is {face.value:.2f} mm wide; {narrow.limit:.2f} mm is the most.", "weld-face"),
    )
    found = [judged(check, sentence, topic) for check, sentence, topic in said]
    made = [f for f in found if f is not None]
    if source.mode == "between":
        made.append(
            Finding(
                "caution",
                f"The weld runs at {source.index:.1f}, between conduction and keyhole.",
                "finer spot or more power, so that the keyhole is steady",
                face.identity,
                "weld-threshold",
                f"the index is in the convention: {CONVENTION}",
            )
        )
    return made


def doubt_findings(part: str, card: HeatCard, fit: AbsorptionFit | None) -> list[Finding]:
    """What the widths rest on: no sections, parameters that the sections do not teach, what the card lacks."""
    made = []
    about = f"{part}/weld/absorbed"
    if fit is None:
        made.append(
            Finding(
                "caution",
                "Widths rest on an assumed absorption: no section of the shop's own is entered.",
                "weld six sections, two of them not through and one with a wide spot, and enter their widths",
                about,
                "weld-absorption",
            )
        )
    elif fit.not_learnt:
        made.append(
            Finding(
                "caution",
                f"Not learnt from these sections: {', '.join(fit.not_learnt)}.",
                "add two sections that are not through and one with a wide spot",
                about,
                "weld-not-learnt",
                "the posterior is wider than 0.7 of the prior",
            )
        )
    made += [
        Finding("note", words[0].upper() + words[1:] + ".", "enter the figure on the alloy card", about, "weld-card")
        for words in card.assumed
    ]
    return made
