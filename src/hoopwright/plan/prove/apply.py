"""What a proof says, as figures and findings of the plan: where reckoning and proof differ the proof rules."""

from __future__ import annotations

from dataclasses import replace

from hoopwright.findings import Check, Figure, Finding, Input, Source
from hoopwright.plan.prove.record import GOOD_MM, Proof, SizeProof
from hoopwright.plan.shapes import RingJob
from hoopwright.plan.solve import shop_card
from hoopwright.process.size import stretch_findings
from hoopwright.process.working import reckoned

PROVEN = "proof run on the section kernel"


def proof_figures(job: RingJob, proof: Proof) -> tuple[Figure, ...]:
    """Every figure of the proof: its summary, then its walk step by step."""
    ground = shop_card(job).ground
    figures: list[Figure] = []
    for size in proof.sizes:
        figures += _size_figures(job, proof, size, ground)
    figures += _tool_figures(job, proof, ground)
    figures += _length_figures(job, proof, ground)
    return (*figures, *proof.figures)


def _word(name: str) -> str:
    word = name.lower()
    for end in ("_od", "_id", "_dia"):
        word = word.removesuffix(end)
    return word.replace("_", "-").replace(" ", "-") + "-dia"


def _size_figures(job: RingJob, proof: Proof, size: SizeProof, ground: Source) -> list[Figure]:
    said, word = size.name.replace("_", " "), _word(size.name)
    drawn = Input("D", "drawing", size.wanted_mm, "mm", job.liner.source(f"{job.ring.id}, controls"))
    return [
        reckoned(
            job.identity(f"proof/residual-{word}"), f"{said}, proven free size less the drawing", size.residual_mm,
            "mm", "D_p - D", Input("D_p", PROVEN, size.free_mm, "mm", ground), drawn, digits=4,
            note="on the corrected segments, edges trimmed off, what the segments add to a full circle counted in",
        ),
        reckoned(
            job.identity(f"proof/uncorrected-{word}"), f"{said}, the same on tools as reckoned",
            size.first_mm - size.wanted_mm, "mm", "D_r - D",
            Input("D_r", PROVEN + ", tools as reckoned", size.first_mm, "mm", ground), drawn, digits=4,
        ),
    ]  # fmt: skip


def _tool_figures(job: RingJob, proof: Proof, ground: Source) -> list[Figure]:
    rolls, curl = proof.rolls, proof.curl
    rows = [
        ("roll-deviation", "rolled and curled section off the drawing, at most", rolls.greatest_mm, "mm", 3,
         f"rms {rolls.rms_mm:.3f}; rolls cut to the part's faces: {rolls.greatest_before_mm:.3f}, rms "
         f"{rolls.rms_before_mm:.3f}"),
        ("roll-depth", "miss in depth at the middle of a straight, at most", rolls.depth_mm, "mm", 3,
         f"rolls cut to the part's faces: {rolls.depth_before_mm:.3f}"),
        ("profile", "trimmed ring off the drawing, at most", proof.profile_mm[0], "mm", 3,
         f"rms {proof.profile_mm[1]:.3f}; nodes 3 from the edges and further in"),
        ("guide-lean", "lean the side guides or the cone of the rolls hold in the curl", curl.guide_deg, "deg", 2, ""),
        ("guide-moment", "moment they hold", curl.side_moment_Nm, "Nm", 0, "ten times the curl moment is usual"),
        ("segments-add", "what slots and flats of the segments add to a free diameter",
         proof.sizes[0].segments_mm if proof.sizes else 0.0, "mm", 4, "hoop kernel, against a full circle"),
        ("ledge-force", "force of a ledge at the edge of the ring, along the axis", proof.ledge_kN, "kN", 1,
         "no ledge needed" if proof.ledge == "none" else f"{proof.ledge} edge"),
    ]  # fmt: skip
    if curl.unguided_deg is not None:
        rows.append(
            ("unguided-lean", "lean of the section if nothing guides the strip in the curl", curl.unguided_deg, "deg",
             2, "half angle of the cone it would close to, against the drawing")
        )  # fmt: skip
    return [
        reckoned(job.identity(f"proof/{word}"), name, value, unit, "x_p",
                 Input("x_p", PROVEN, value, unit, ground), digits=digits, note=note)
        for word, name, value, unit, digits, note in rows
    ]  # fmt: skip


def _length_figures(job: RingJob, proof: Proof, ground: Source) -> list[Figure]:
    length = proof.length
    cut = Input("L_p", PROVEN, length.cut_mm, "mm", ground)
    hand = Input("L_h", "cut length by the hand rule", length.hand_mm, "mm", ground, job.identity("strip/hand-length"))
    return [
        reckoned(job.identity("proof/cut-over-reckoned"), "proven cut length over the reckoned one",
                 length.cut_mm - length.reckoned_mm, "mm", "L_p - L_r", cut,
                 Input("L_r", "reckoned on the neutral fibre", length.reckoned_mm, "mm", ground), digits=2,
                 note="both stretch the smallest radius as planned, each by its own tier"),
        reckoned(job.identity("proof/cut-over-hand"), "proven cut length over the hand rule's",
                 length.cut_mm - length.hand_mm, "mm", "L_p - L_h", cut, hand, digits=2),
        reckoned(job.identity("proof/hand-stretch"), "stretch of the smallest radius from the hand rule's length",
                 length.hand_pct, "pct", "e_h", Input("e_h", PROVEN + ", radius in proportion to the length",
                                                      length.hand_pct, "pct", ground), digits=2,
                 note=f"planned {100.0 * job.limits.stretch_plan_eng.value:g} %"),
    ]  # fmt: skip


def proven_figure(figure: Figure, job: RingJob, proof: Proof) -> Figure:
    """A figure of the plan with the proof's value, where the proof has one; the reckoned value stays beside it."""
    value = proven_value(figure.identity.removeprefix(job.ring.id + "/"), proof)
    if value is None:
        return figure
    ground = shop_card(job).ground
    return replace(
        figure,
        value=value,
        formula="x_p",
        inputs=(Input("x_p", PROVEN, value, figure.unit, ground),),
        note=f"proven; reckoned on the same tools {figure.value:.{figure.digits}f}"
        + (f"; {figure.note}" if figure.note else ""),
    )


def proven_value(rest: str, proof: Proof) -> float | None:
    """Value the proof has for a figure, its identity without the ring's number; None where it has none."""
    known = {figure.identity.split("/proof/", 1)[1]: figure.value for figure in proof.figures}
    hits = max((int(k.split("/")[0].removeprefix("hit-")) for k in known if k.startswith("hit-")), default=0)
    if rest == "curl/moment":
        return known.get("curl/moment")
    if rest == "curl/natural-radius":
        return known.get("curl/natural-radius")
    if not rest.startswith("size/hit-"):
        return None
    place = rest.removeprefix("size/")
    number, _, what = place.partition("/")
    if what.startswith(("stretch", "loaded-")):
        return known.get(place)
    if not what.startswith("free-"):
        return None
    size = next((s for s in proof.sizes if f"free-{_word(s.name)}" == what), None)
    if size is None:
        return None
    if number == f"hit-{hits}":
        return size.free_mm
    before = known.get(place)
    return None if before is None else before + size.segments_mm


RULED_OUT = ("stretch-small", "stretch-large", "conical-curl")
"""Topics of the reckoning that the proof judges itself."""


def ruled(job: RingJob, findings: list[Finding], known: dict[str, Figure], hits: int) -> list[Finding]:
    """Findings of the reckoned walk with those left out that the proof judges, and its own in their place."""
    place = job.identity(f"size/hit-{hits}/stretch")
    stretch = [known[identity] for identity in (place, f"{place}-loaded") if identity in known]
    own = stretch_findings(job.ring.id, stretch, shop_card(job)) if len(stretch) == 2 else []
    return [finding for finding in findings if finding.topic not in RULED_OUT] + own


def proof_findings(job: RingJob, proof: Proof) -> list[Finding]:
    """Whether the plan is proven, and what the proof has to say about its tools."""
    found = [_residual(job, proof), _depth(job, proof), _ledge(job, proof), _guides(job, proof)]
    return [finding for finding in found if finding is not None]


def _residual(job: RingJob, proof: Proof) -> Finding:
    said = ", ".join(f"{s.name.replace('_', ' ')} {s.residual_mm:+.4f}" for s in proof.sizes)
    if proof.holds:
        return Finding(
            "note",
            f"The plan of {job.ring.id} is proven: residual {said or 'none to tell'}.",
            "make one trial ring and enter its loaded and free size before the batch is cut",
            job.identity("proof/profile"),
            "proven",
            "section and hoop kernels have run over the whole walk; every control size is within a tenth of its "
            "tolerance on the corrected tools",
        )
    return Finding(
        "caution",
        f"The proof run of {job.ring.id} leaves a residual: {said}; a tenth of the tolerance is allowed.",
        "make one trial ring on these tools before they are hardened, and correct by what it reads",
        job.identity("proof/profile"),
        "proof-residual",
        proof.reason,
    )


def _depth(job: RingJob, proof: Proof) -> Finding | None:
    if proof.rolls.depth_mm <= GOOD_MM:
        return None
    check = Check(
        "the rolled contour has its depth", proof.rolls.depth_mm, GOOD_MM, "<=", "mm", shop_card(job).ground,
        "note", "trace the first three strips and correct the rolls on the trace", job.identity("proof/roll-depth"),
    )  # fmt: skip
    return Finding(
        "note",
        f"The rolls of {job.ring.id} leave {proof.rolls.depth_mm:.3f} in depth; {GOOD_MM:g} is sought.",
        check.remedy,
        check.about,
        "roll-depth",
        "what remains sits at blunt shoulders beside the corners and on long flanks; sizing takes most of it out",
        check,
    )


def _ledge(job: RingJob, proof: Proof) -> Finding | None:
    if proof.ledge == "none":
        return None
    return Finding(
        "caution",
        f"{job.ring.id} slides on its segments until its contour stops it; held at its {proof.ledge} edge it comes to "
        f"size, with {proof.ledge_kN:.1f} kN along the axis.",
        f"give the base a ledge under the {proof.ledge} edge before the first ring is stretched",
        job.identity("proof/ledge-force"),
        "sizing-ledge",
        "on a steep cone the hoop tension pushes the ring towards the small end, past what friction holds",
    )


LEAN_DEG = 1.0


def _guides(job: RingJob, proof: Proof) -> Finding | None:
    lean = proof.curl.unguided_deg
    if lean is None or abs(lean) <= LEAN_DEG:
        return None
    return Finding(
        "note",
        f"Unguided, the strip of {job.ring.id} would curl to a lean of {abs(lean):.1f}°; guides that hold it level "
        f"take {abs(proof.curl.side_moment_Nm):.0f} Nm.",
        "set side guides at the exit, and compare the curl of both edges on the first strip",
        job.identity("proof/unguided-lean"),
        "conical-curl",
        "the contour lies off the middle of the width; both ways are run, the plan takes the guided one",
    )
