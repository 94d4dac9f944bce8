"""How the work of tracing grows: times and ratios from a quarter of a long plan to the whole. Run it as a module.

Prints, asserts nothing; nothing is collected while it runs, as in the command: python -m tests.bench.bench_trace
"""

from __future__ import annotations

import gc
import json
import time
from collections.abc import Callable
from typing import Any

from plancheck.building.build import build_plan
from plancheck.geometry import find_geometry
from plancheck.network.graph import build_graph
from plancheck.network.trace import trace
from plancheck.network.zones import find_zones
from plancheck.reading import read_bytes
from tests.network import long_plans

SHAPES: tuple[tuple[str, Callable[[int], dict[str, Any]], int], ...] = (
    ("tees in series", long_plans.tees_in_series, 2500),
    ("tees in a ring", long_plans.tees_in_a_ring, 5000),
    ("valves in series", long_plans.valves_in_series, 5000),
    ("pumps at sinks", long_plans.pumps_at_sinks, 1250),
)


def seconds(work: Callable[[], object], times: int = 3) -> float:
    """The least time of a few tries, seconds."""
    best = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def measured(data: dict[str, Any]) -> dict[str, float]:
    """Seconds of each stage for one plan."""
    raw = json.dumps(data).encode()
    source = read_bytes(raw, "bench.plan.json")
    plan = build_plan(source)
    graph = build_graph(plan)
    return {
        "bytes": len(raw),
        "runs": len(plan.runs),
        "read": seconds(lambda: read_bytes(raw, "bench.plan.json"), 1),
        "build": seconds(lambda: build_plan(source), 1),
        "graph": seconds(lambda: build_graph(plan)),
        "trace": seconds(lambda: trace(plan, graph)),
        "zones": seconds(lambda: find_zones(graph)),
        "geometry": seconds(lambda: find_geometry(plan)),
    }


def main() -> None:
    """Prints one line a stage: a quarter, the whole, and how many times as long the whole takes."""
    gc.disable()
    for name, make, count in SHAPES:
        small, large = measured(make(count // 4)), measured(make(count))
        print(f"{name}: {small['runs']:.0f} and {large['runs']:.0f} runs, {large['bytes'] / 1e6:.2f} MB")
        for stage in ("read", "build", "graph", "trace", "zones", "geometry"):
            ratio = large[stage] / small[stage]
            print(f"  {stage:<9} {small[stage] * 1e3:8.1f} ms {large[stage] * 1e3:8.1f} ms  ratio {ratio:.2f}")


if __name__ == "__main__":
    main()
