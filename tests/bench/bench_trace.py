"""How tracing grows with the plan: 1,000 to 10,000 runs of length and rise, as ratios measured in one run.

    .venv/bin/python -m tests.bench.bench_trace
"""

from __future__ import annotations

import json
import time
from typing import Any

from plancheck.check import facts_of
from plancheck.facts import Facts
from plancheck.reading import read_bytes


def block(runs: int) -> bytes:
    """A block of flats as a plan: a trunk of tees, at each a flat of nine runs with a basin, a toilet and a valve."""
    parts: dict[str, Any] = {"street": {"is": "source"}, "main": {"is": "valve", "onto": "street"}}
    pipes: dict[str, Any] = {}
    before = "main/out"

    def run(start: str, end: str, name: str) -> None:
        pipes[name] = {"from": start, "to": end, "tube": "blue", "length": "6 ft 4 in", "rise": "2 ft"}

    for flat in range(runs // 5):
        trunk, valve, tee = f"trunk-{flat}", f"valve-{flat}", f"tee-{flat}"
        parts[trunk], parts[tee] = {"is": "tee"}, {"is": "tee"}
        parts[valve] = {"is": "valve", "style": "ball", "reach": "open"}
        parts[f"basin-{flat}"] = {"is": "lavatory", "hot": "none", "supply": {"stop": "angle"}}
        parts[f"wc-{flat}"] = {"is": "toilet", "supply": {"stop": "angle"}}
        run(before, f"{trunk}/in", f"up-{flat}")
        run(f"{trunk}/branch", f"{valve}/in", f"in-{flat}")
        run(f"{valve}/out", f"{tee}/in", f"from-{flat}")
        run(f"{tee}/out", f"basin-{flat}/cold", f"cold-{flat}")
        run(f"{tee}/branch", f"wc-{flat}/cold", f"fill-{flat}")
        before = f"{trunk}/out"
    tubes = {"blue": {"material": "PEX-B", "size": "1/2", "colour": "blue"}}
    return json.dumps({"plancheck": 1, "tubes": tubes, "parts": parts, "runs": pipes}).encode()


def traced(raw: bytes) -> tuple[Facts, float, float]:
    """The facts of a plan, the seconds to read, shape and build it, and the seconds to trace it and find its zones."""
    start = time.perf_counter()
    facts = facts_of(read_bytes(raw, "block"), "2026-05-05")
    built = time.perf_counter()
    assert all(carried.service == "cold" for carried in facts.traced.runs.values())
    assert len(facts.zones.dry["main"]) == 2 * sum(part.is_ == "toilet" for part in facts.plan.parts.values())
    assert facts.geometry.heights == {}
    return facts, built - start, time.perf_counter() - built


def main() -> None:
    """Prints seconds and the growth from one size to the next."""
    last = 0.0
    for runs in (1_250, 2_500, 5_000, 10_000):
        raw = block(runs)
        _, building, tracing = min((traced(raw) for _ in range(3)), key=lambda found: found[2])
        growth = f"{tracing / last:4.2f} x the half" if last else ""
        print(f"{runs:6,} runs, {len(raw) / 1e6:.2f} MB: read and built {building:.2f} s, traced {tracing:.2f} s  {growth}")
        last = tracing


if __name__ == "__main__":
    main()
