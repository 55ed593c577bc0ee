"""Drawings show themselves in a notebook."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from hoopwright.desk.notebook import liner, ring
from hoopwright.errors import InputError


def test_a_ring_and_a_liner_show_themselves_as_svg() -> None:
    for drawing, words in ((ring("HD-402"), "HD-402"), (liner(), "HD-400")):
        root = ET.fromstring(drawing._repr_svg_())
        assert root.tag.endswith("svg")
        assert words in root.attrib["aria-label"]
        assert len(list(root.iter())) > 10


def test_no_such_ring_is_named() -> None:
    with pytest.raises(InputError, match="HD-401"):
        ring("HD-499")
