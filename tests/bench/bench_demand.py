"""How the work of finding loads grows, and how it stands to tracing: from a quarter of a long plan to the whole.

Prints, asserts nothing; nothing is collected while it runs: python -m tests.bench.bench_demand
"""

from __future__ import annotations

import gc
from typing import Any

from plancheck.demand.loads import loads_of
from plancheck.network.graph import build_graph
from plancheck.network.trace import trace
from tests.bench.bench_trace import SHAPES, seconds
from tests.network.nets import built


def measured(data: dict[str, Any]) -> dict[str, float]:
    """Seconds of tracing, of loads by fixture units, and of all flows by both methods; how many runs."""
    plan = built(data)
    graph = build_graph(plan)
    traced = trace(plan, graph)
    found = loads_of(plan, graph, traced, "upc")
    return {
        "runs": len(plan.runs),
        "trace": seconds(lambda: trace(plan, graph)),
        "loads": seconds(lambda: loads_of(plan, graph, traced, "upc")),
        "flows": seconds(lambda: [found[run] for run in found], 1),
    }


def main() -> None:
    """Prints one line a shape and size."""
    gc.disable()
    for name, make, count in SHAPES:
        for size in (count // 4, count):
            found = measured(make(size))
            shown = "  ".join(f"{what} {found[what] * 1e3:7.1f} ms" for what in ("trace", "loads", "flows"))
            print(f"{name:<17} {found['runs']:6} runs  {shown}")


if __name__ == "__main__":
    main()
