"""How long drawings, the HTML report, the pack and its PDF take, each beside a floor of the same run.

    .venv/bin/python -m tests.bench.bench_pages

The floor is a warm `check` of the clean house (read, shape, build, trace, all rules); absolute times stand beside.
"""

from __future__ import annotations

import json
import tempfile
import time
from pathlib import Path

from plancheck.check import check_source, facts_of
from plancheck.drawing.isometric import isometric
from plancheck.drawing.riser import riser
from plancheck.packcalls import Call, make_pack
from plancheck.pages.htmlreport import html_report
from plancheck.pages.printing import print_pdf
from plancheck.reading import read_bytes
from tests.bench.bench_check import PLAN, warm
from tests.drawing.apartments import apartments


def main() -> None:
    """Prints the figures and the goal beside each."""
    raw = PLAN.read_bytes()
    report = check_source(read_bytes(raw, "plan"), "2026-05-20")
    floor = warm(lambda: check_source(read_bytes(raw, "plan"), "2026-05-20"))
    print(f"warm check of the clean house {floor * 1e3:.1f} ms")
    page = html_report([report])
    _row("HTML report", warm(lambda: html_report([report])), floor, "under 150 ms")
    print(f"  its size {len(page.encode()) / 1024:.0f} KB (goal under 400)")
    flats = facts_of(read_bytes(json.dumps(apartments()).encode(), "flats"), "2026-05-20")
    print(f"  a house of {len(flats.plan.runs)} runs:")
    _row("isometric", warm(lambda: isometric(flats)), floor, "under 100 ms")
    _row("riser", warm(lambda: riser(flats)), floor, "")
    with tempfile.TemporaryDirectory() as folder:
        start = time.perf_counter()
        make_pack(Call(str(PLAN), folder, today="2026-05-20"))
        _row("pack, all sheets and drawings", time.perf_counter() - start, floor, "")
        times = []
        for _ in range(5):
            start = time.perf_counter()
            print_pdf(str(Path(folder) / "pack.html"), str(Path(folder) / "pack.pdf"))
            times.append(time.perf_counter() - start)
        _row("PDF of the pack", sorted(times)[2], floor, "under 3 s")


def _row(name: str, seconds: float, floor: float, goal: str) -> None:
    print(f"{name:<30} {seconds * 1e3:7.0f} ms, {seconds / floor:5.1f} checks{f'   (goal {goal})' if goal else ''}")


if __name__ == "__main__":
    main()
