"""Plan one ring and read what the shop needs of it."""

from hoopwright.design.demo import demo_liner
from hoopwright.plan.ring_plan import plan_ring

plan = plan_ring(demo_liner(), "HD-402")
for name in ("blank/rough-length", "close/cut-length", "segments/radius-lip", "press/pull", "size/hit-2/free-lip-dia"):
    figure = plan.figure(name)
    band = f"  ({figure.band.low:.2f} to {figure.band.high:.2f})" if figure.band else ""
    print(f"{figure.name}: {figure}{band}")
print(plan.findings[0].level + ":", plan.findings[0].sentence)
