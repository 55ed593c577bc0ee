"""The cautions that belong beside the work: short, numbered, and shown with the operation they belong to.

They are common practice of the trade with the standards a shop will meet (numbers from memory, scope unchecked).
hoopwright gives calculations and papers, not safety instructions.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

RULE: Final = (
    "hoopwright gives calculations and papers, not safety instructions: local law, the machine maker's rules, licensed "
    "or competent persons and the procedures of the site decide."
)


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution. number : stable, the same on every paper. head : what it is about. text : what to mind.

    operations : kinds of step that show it. standards : where rules are found, from memory.
    """

    number: int
    topic: str
    head: str
    text: str
    operations: tuple[str, ...]
    standards: str = ""


CAUTIONS: Final[tuple[Caution, ...]] = (
    Caution(
        1,
        "laser",
        "Lasers cut and weld with a beam of class 4, and nickel alloys reflect it strongly.",
        "Closed enclosure with interlocks, eyewear for the wavelength, a named laser safety officer.",
        ("cut", "weld", "drill"),
        "IEC 60825-1, ISO 11553, ANSI Z136.1",
    ),
    Caution(
        2,
        "press",
        "Presses close on hands.",
        "Guards, two-hand or light-curtain control, the ram blocked before a hand or feeler goes in, tool clamps "
        "checked.",
        ("press",),
        "ISO 16092, ISO 13849-1",
    ),
    Caution(
        3,
        "expander energy",
        "The expander under load holds energy in ring, pin, frame and oil.",
        "A pin near its friction angle may stay loaded with the pressure off: use the positive retract, treat the set "
        "as loaded until slack is measured, stand clear of pin and hose.",
        ("size",),
    ),
    Caution(
        4,
        "flying parts",
        "Hard segments can chip, and a hoop can part at the seam and whip.",
        "Full guard or cage, bands that also hold the segments, nobody in the plane of the ring, no hammer on a loaded "
        "set.",
        ("size",),
    ),
    Caution(
        5,
        "pull and travel",
        "Never pass the stated pin pull or travel.",
        "The figure on the sheet is an estimate until the gauge of the press has confirmed it.",
        ("size",),
    ),
    Caution(
        6,
        "sharp edges",
        "Strip and rings have edges that cut, and coiled strip springs open.",
        "Gloves against cuts for strip and rings, none near turning rolls; release coil and long strip slowly.",
        ("cut", "roll", "close", "trim"),
    ),
    Caution(
        7,
        "in-running nip",
        "Rolls draw in hands, rags and gloves.",
        "Guard, jog mode, emergency stop within reach, nothing loose at the nip.",
        ("roll", "curl"),
    ),
    Caution(
        8,
        "furnace",
        "Furnaces are hot, and inert or hydrogen atmospheres smother or explode.",
        "Purge and gas monitors, quench steam kept off, competent operators.",
        ("anneal",),
    ),
    Caution(
        9,
        "metal dust",
        "Dust and fume of nickel, chromium and cobalt are poisonous and sensitising.",
        "Extraction at the source, wet methods, respiratory protection, no dry sweeping, health surveillance by local "
        "limits. Fine metal dust can burn.",
        ("cut", "weld", "trim", "drill", "grind"),
        "NFPA 484",
    ),
    Caution(
        10,
        "shielding gas",
        "Argon settles in pits and fixtures and cannot be smelt.",
        "Oxygen alarm; cylinders chained.",
        ("weld",),
    ),
    Caution(
        11,
        "residues",
        "Chlorinated residue in arc or laser light can make poisonous gas, and residues crack the part when hot.",
        "Clean before welding and before the furnace; keep chlorine, sulphur, lead and zinc away.",
        ("weld", "anneal"),
    ),
    Caution(
        12,
        "lifting",
        "A segment set can weigh more than one person may lift.",
        "Lifting gear; the rules of the site for grinding wheels and wire-cutting fluid.",
        ("size", "grind"),
    ),
    Caution(
        13,
        "radiography and penetrant",
        "Radiography and penetrant inspection harm without control.",
        "Qualified people, controlled areas.",
        ("inspect",),
    ),
    Caution(
        14,
        "release",
        "A computed pass is no release.",
        "Only the authorised signatory of the organisation releases; flight or public use needs the authority's "
        "approval.",
        ("release",),
    ),
)


def belonging(kinds: Iterable[str]) -> tuple[Caution, ...]:
    """Cautions of the operations done, in their order, each once; the one on release always closes the list.

    >>> [c.number for c in belonging(["roll"])]
    [6, 7, 14]
    """
    done = {*kinds, "release"}
    return tuple(c for c in CAUTIONS if done.intersection(c.operations))


def of_operation(kind: str) -> tuple[Caution, ...]:
    """Cautions that one kind of step shows."""
    return tuple(c for c in CAUTIONS if kind in c.operations)
