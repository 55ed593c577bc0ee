"""Everything in which two revisions of a liner differ, value by value; nothing is left out because nobody named it.

The shapes of `design` are walked field by field. Things with a name of their own (rings, joints, control sizes, hole
patterns) are matched by it, so that one ring more does not make all that follow look changed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass

from hoopwright.design.shapes import ControlSize, HolePattern, Liner
from hoopwright.kernels.profile import Profile

HEADING = ("revision", "title", "notes")
"""What may differ between revisions without any part being another."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One value: thing ("HD-403"), place in it ("control lip_od diameter_mm"), old and new as text, "" where absent."""

    thing: str
    place: str
    old: str
    new: str

    @property
    def sentence(self) -> str:
        """The difference in a line."""
        if not self.old:
            return f"{self.thing} {self.place}: new, {self.new}"
        return f"{self.thing} {self.place}: {self.old} → {self.new or 'gone'}"


def differences(old: Liner, new: Liner) -> tuple[Difference, ...]:
    """All of them, in the order of the liner file; the heading (revision, title, notes) is not counted."""
    found: list[Difference] = []
    for field in fields(Liner):
        if field.name not in HEADING:
            found += _between(old.id, field.name, getattr(old, field.name), getattr(new, field.name))
    return tuple(found)


def _between(thing: str, place: str, old: object, new: object) -> Iterator[Difference]:
    if old == new:
        return
    if isinstance(old, Profile) and isinstance(new, Profile):
        yield Difference(thing, place, _words(old), _words(new))
    elif isinstance(old, tuple) and isinstance(new, tuple):
        yield from _lists(thing, place, old, new)
    elif is_dataclass(old) and is_dataclass(new) and type(old) is type(new):
        own = str(getattr(old, "id", thing))
        inside = "" if hasattr(old, "id") else place
        for field in fields(old):
            name = f"{inside} {field.name}".strip()
            yield from _between(own, name, getattr(old, field.name), getattr(new, field.name))
    else:
        yield Difference(thing, place, _words(old), _words(new))


def _lists(thing: str, place: str, old: tuple[object, ...], new: tuple[object, ...]) -> Iterator[Difference]:
    was, now = ({_name(item, k): item for k, item in enumerate(rows)} for rows in (old, new))
    for name in dict.fromkeys((*was, *now)):
        if name in was and name in now:
            one = was[name]
            yield from _between(str(getattr(one, "id", thing)), f"{place} {name}".strip(), one, now[name])
        else:
            item = was.get(name, now.get(name))
            owner = str(getattr(item, "id", getattr(item, "ring", thing)))
            label = f"{place} {name}"
            yield Difference(owner, label, *(_words(rows[name]) if name in rows else "" for rows in (was, now)))


def _name(item: object, number: int) -> str:
    if isinstance(item, HolePattern):
        return f"{item.ring} {item.kind} z {item.z_mm:g}"
    if isinstance(item, ControlSize):
        return item.name
    return str(getattr(item, "id", getattr(item, "name", number + 1)))


def _words(value: object) -> str:
    if isinstance(value, Profile):
        return f"{len(value.segments)} elements, developed {value.length:.3f} mm"
    if isinstance(value, float):
        return f"{value:g}"
    if value is None:
        return ""
    if is_dataclass(value) and not isinstance(value, type):
        return ", ".join(f"{f.name} {_words(getattr(value, f.name))}" for f in fields(value) if f.name != "section")
    return str(value)
