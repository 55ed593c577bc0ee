"""Reads advance widths from the fonts, and writes them to widths.json when run: the drawing code needs no font library.

python tests/papers/font_reader.py
"""

from __future__ import annotations

import json
from pathlib import Path

from fontTools.ttLib import TTFont

from hoopwright.papers.drawing.lettering import FONT_FILES, FONTS


def tabular(font: TTFont) -> dict[str, str]:
    """Glyph names that the feature tnum replaces."""
    table = font["GSUB"].table
    swaps: dict[str, str] = {}
    for record in table.FeatureList.FeatureRecord:
        if record.FeatureTag == "tnum":
            for number in record.Feature.LookupListIndex:
                for sub in table.LookupList.Lookup[number].SubTable:
                    swaps.update(sub.mapping)
    return swaps


def widths(path: Path) -> dict[str, int]:
    """Advance of every character, tabular figures on, in thousandths of the font size."""
    font = TTFont(path)
    names, advances, swaps = font.getBestCmap(), font["hmtx"], tabular(font)
    em = font["head"].unitsPerEm
    return {chr(c): round(1000 * advances[swaps.get(n, n)][0] / em) for c, n in sorted(names.items()) if c >= 32}


def all_widths() -> dict[str, dict[str, int]]:
    """Widths of every face."""
    return {face: widths(FONTS / name) for face, name in FONT_FILES.items()}


if __name__ == "__main__":
    (FONTS / "widths.json").write_text(json.dumps(all_widths(), ensure_ascii=True, indent=0) + "\n", encoding="utf-8")
