"""The working of a figure: formula, the same with numbers, inputs and where each came from."""

from hoopwright.design.demo import demo_liner
from hoopwright.desk.explain import explain
from hoopwright.plan.ring_plan import plan_ring

shown = explain(plan_ring(demo_liner(), "HD-402").figure("segments/radius-lip"))
print(shown.figure.name, "=", shown.formula, "=", shown.with_numbers)
for item in shown.inputs:
    print(f"  {item.symbol}: {item.name} [{item.source.basis}: {item.source.where}]")
