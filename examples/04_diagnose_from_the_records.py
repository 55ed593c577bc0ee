"""Readings into the records, and what is wrong with ring 402-01: eight lobes, and the set that printed them."""

from pathlib import Path
from tempfile import TemporaryDirectory

from hoopwright.desk.diagnose import diagnose_part
from hoopwright.desk.take_files import take

demo = Path(__file__).parent / "demo"
with TemporaryDirectory() as job:
    for name in ("liner", "register", "readings"):
        print("; ".join(take(job, demo / f"{name}.toml", by="MD").said))
    found = diagnose_part(job, "402-01", needed_radius_mm=123.395)
for finding in found.findings:
    print(f"{finding.level}: {finding.sentence} Do: {finding.remedy}.")
