"""Liner files broken blindly: whatever a slip of the hand makes of one, it is reported, never a traceback."""

from __future__ import annotations

import random

import pytest
from mutations import TEXT

from hoopwright.design.check import check_text

JUNK = (
    "nan", "-inf", "1e308", "-1e308", "0", "0.0", "-0.0", "1e-300", '""', '"x"', "true", "[]", "{}", "[[1.0]]",
    "1979-05-27", "07:32:00", "9223372036854775808", "'''a\nb'''", "\ufeff", "\x00",
    "[", "]", "=", "#", "\u2028", "1_000", "0x1F",
)  # fmt: skip


def broken(dice: random.Random) -> str:
    """The demonstration's liner file after one to four slips of the hand."""
    lines = TEXT.split("\n")
    for _ in range(dice.randint(1, 4)):
        slip, place = dice.randrange(7), dice.randrange(len(lines))
        line = lines[place]
        if slip == 0:
            del lines[place]
        elif slip == 1:
            lines.insert(place, line)
        elif slip == 2 and "=" in line:
            lines[place] = line.partition("=")[0] + "= " + dice.choice(JUNK)
        elif slip == 3 and line:
            at = dice.randrange(len(line))
            lines[place] = line[:at] + dice.choice(JUNK) + line[at + 1 :]
        elif slip == 4:
            other = dice.randrange(len(lines))
            lines[place], lines[other] = lines[other], lines[place]
        elif slip == 5:
            lines[place] = "".join(str(dice.randint(0, 9)) if c.isdigit() else c for c in line)
        else:
            lines = lines[: place + 1] if dice.random() < 0.1 else lines
    return "\n".join(lines)


def report(seed: int) -> None:
    """Checks one broken file: it is read or reported, and nothing else happens."""
    checked = check_text(broken(random.Random(seed)), f"seed {seed}")
    for fault in checked.faults:
        assert fault.key and fault.must and fault.remedy, (seed, fault)
    for finding in checked.findings:
        assert finding.sentence and finding.remedy and finding.topic, (seed, finding)
    assert checked.faults or checked.liner is not None, seed


@pytest.mark.parametrize("start", range(0, 40, 10))
def test_no_slip_makes_a_traceback(start: int) -> None:
    for seed in range(start, start + 10):
        report(seed)


@pytest.mark.soak
@pytest.mark.parametrize("start", range(1000, 9000, 1000))
def test_no_slip_makes_a_traceback_in_thousands(start: int) -> None:
    for seed in range(start, start + 1000):
        report(seed)
