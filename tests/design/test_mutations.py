"""Every broken file is reported: by the key that was broken, with what it must be and what to do; never a traceback."""

from __future__ import annotations

import pytest
from mutations import TEXT, Mutation, all_mutations, in_block, outcome, swap, value

from hoopwright.design.check import Checked, check_text

MUTATIONS = all_mutations()


def test_there_are_more_than_a_hundred() -> None:
    assert len(MUTATIONS) >= 200
    assert len({mutation.name for mutation in MUTATIONS}) == len(MUTATIONS)


def said(checked: Checked) -> str:
    """Everything reported, for the message of a failed test."""
    faults = [str(fault) for fault in checked.faults]
    return "\n".join(faults + [f"{f.level} {f.topic} {f.about}: {f.sentence}" for f in checked.findings])


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda mutation: mutation.name)
def test_reported_by_key_and_remedy(mutation: Mutation) -> None:
    checked = outcome(mutation)
    if mutation.topic:
        found = [f for f in checked.findings if f.about == mutation.key and f.topic == mutation.topic]
        assert found, said(checked)
        assert all(finding.sentence.endswith(".") and finding.remedy for finding in found)
    else:
        faults = [fault for fault in checked.faults if fault.key == mutation.key]
        assert faults, said(checked)
        assert all(fault.must and fault.remedy and fault.value != "" for fault in faults)
    assert mutation.topic or not checked.sound


def test_most_faults_know_their_line() -> None:
    without_line = [
        mutation.name
        for mutation in MUTATIONS
        if not mutation.topic and any(fault.line is None for fault in outcome(mutation).faults)
    ]
    # an empty file, a nesting that is never closed and a number too long to read have no line; a table that is
    # missing as a whole has none either
    allowed = {"empty", "blank", "deep", "digits", "no cards", "no tolerances", "no schema", "ring as a table"}
    assert set(without_line) <= allowed


def test_all_faults_of_a_file_at_once() -> None:
    """Faults of shape, of meaning and of sections, and findings, from one file with all of them."""
    wanted = {"ring[2].thickness_mm", "ring[3].section.chain[2].c_mm", "joint[2].outer", "cards.roll"}
    text = in_block("[[ring]]", 2, value("thickness_mm", '"0.8"'), TEXT)
    text = in_block("[ring.section]", 3, swap("c_mm = [68.2382, 127.25]", "c_mm = [68.2382, 127.35]"), text)
    text = in_block("[[joint]]", 2, value("outer", '"HD-409"'), text)
    text = in_block("[cards]", 1, value("roll", '"none"'), text)
    text = in_block("[[ring]]", 1, swap("diameter_mm = 239.1", "diameter_mm = 239.4"), text)
    checked = check_text(text, "broken.toml")
    assert wanted <= {fault.key for fault in checked.faults}, said(checked)
    assert [f.about for f in checked.findings if f.topic == "control-size"] == ["HD-401/control/land_id"]
    assert [fault.line for fault in checked.faults] == sorted(fault.line or 0 for fault in checked.faults)
