"""What one changed value does: the same ring from sheet 0.02 thicker, cards read once."""

from dataclasses import replace

from hoopwright.design.demo import demo_liner
from hoopwright.plan.ring_plan import plan_ring
from hoopwright.plan.shelf import Shelf

shelf, liner = Shelf(), demo_liner()
thick = replace(liner, rings=tuple(replace(r, thickness_mm=0.82) if r.id == "HD-402" else r for r in liner.rings))
before, after = (plan_ring(each, "HD-402", shelf) for each in (liner, thick))
for name in ("press/pull", "segments/radius-lip", "budget/worst"):
    one, two = before.figure(name), after.figure(name)
    print(f"{one.name}: {one} -> {two}")
