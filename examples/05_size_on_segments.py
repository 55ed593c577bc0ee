"""A planned ring on its real segments, with half a millimetre of two lobes as welded: what comes off, and why."""

from hoopwright.desk.sizing import planned, run_of, size_ring
from hoopwright.papers.hooping.notebook import RingPictures
from hoopwright.papers.hooping.view import views
from hoopwright.plan.hooping.ask import Incoming
from hoopwright.plan.solve import shop_card

plan = planned("HD-402", None, None)
welded = Incoming(waves=((2, 0.5, 30.0),))
report = size_ring(plan, welded, folder=None)
print(report.sentence)
for figure in report.figures:
    if figure.identity.endswith(("hit-2/free-lip-dia", "hit-2/two-lobes", "hit-2/edge-load")):
        print(f"  {figure.name}: {figure}")

operation, run = run_of(plan, welded)
pictures = RingPictures(views(run, operation, shop_card(plan.job)))  # the last line of a notebook's cell shows it
print(f"{len(pictures.views)} hits drawn, {len(pictures._repr_html_()) // 1000} kB")
