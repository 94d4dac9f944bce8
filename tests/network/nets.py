"""Small networks for the tests of tracing: parts as YAML, runs as lines `name: one end > other end`."""

from __future__ import annotations

import textwrap
from typing import Any, NamedTuple

from plancheck.building.build import build_plan
from plancheck.model import Plan
from plancheck.network.graph import Graph, build_graph
from plancheck.network.trace import Traced, trace
from plancheck.network.zones import Zones, find_zones
from plancheck.reading import Lines, Source, read_bytes

HOUSE = """
street: {is: source}
main: {is: valve, onto: street}
cold: {is: manifold, shape: straight, ports: {in: {use: feed}, A: {valve: ball}, B: {valve: ball}, C: {valve: ball}}}
hot: {is: manifold, shape: straight, ports: {in: {use: feed}, A: {valve: ball}, B: {valve: ball}, C: {valve: ball}}}
heater: {is: water heater, set: 120 degF}
"""
LINES = """
entry: main > cold/in
feed: cold/A > heater/cold
rise: heater/hot > hot/in
"""


class Net(NamedTuple):
    """A plan and what is traced on it."""

    plan: Plan
    graph: Graph
    traced: Traced
    zones: Zones

    def services(self) -> dict[str, str | None]:
        """run -> what it carries."""
        return {run: carried.service for run, carried in self.traced.runs.items()}

    def at(self, vertex: str) -> str | None:
        """What stands at a vertex of the graph."""
        return self.traced.services.get(self.graph.number[vertex])


def plan_of(parts: str, runs: str) -> Plan:
    """The plan; a run's line may end in keys of its own: `name: a > b | work: removed`."""
    lines = [
        "plancheck: 1",
        "tubes: {t: {material: PEX-A, size: 1/2}}",
        "parts:",
        textwrap.indent(parts, "  "),
        "runs:",
    ]
    for line in filter(None, map(str.strip, runs.splitlines())):
        name, _, rest = line.partition(": ")
        ends, _, keys = rest.partition(" | ")
        first, _, last = ends.partition(" > ")
        more = f", {keys}" if keys else ""
        lines.append(f"  {name}: {{from: {first}, to: {last}, tube: t{more}}}")
    return build_plan(read_bytes("\n".join(lines).encode(), "net.plan.yaml"))


def net(parts: str, runs: str) -> Net:
    """A network of its own parts and runs."""
    return traced(plan_of(parts, runs))


def house(parts: str, runs: str) -> Net:
    """The same with a source, a main valve, a cold and a hot manifold and a heater: cold/A feeds the heater."""
    return net(HOUSE + textwrap.dedent(parts), LINES + runs)


def traced(plan: Plan) -> Net:
    """What is traced on a plan."""
    graph = build_graph(plan)
    return Net(plan, graph, trace(plan, graph), find_zones(graph))


def built(data: dict[str, Any]) -> Plan:
    """A plan given as data, past the reader: for sizes that no file may have."""
    return build_plan(Source("net.plan.yaml", b"", data, {}, Lines(b""), {}))


# parts of every kind, some runs between them, and ends that a test joins as it likes
ANY_PARTS = """
ra:
  is: manifold
  shape: ring
  ports: {in: {use: feed}, 1: {valve: ball}, 2: {}, 3: {valve: ball, normally: closed}, 4: {}}
rb:
  is: manifold
  shape: straight
  ports: {in: {use: feed}, 1: {valve: ball}, s: {use: section}, 2: {}, 3: {valve: ball}}
street: {is: source}
heater: {is: water heater}
mv: {is: mixing valve}
v1: {is: valve}
v2: {is: valve, normally: closed}
v3: {is: valve}
k: {is: check valve}
t1: {is: tee}
t2: {is: tee}
t3: {is: tee}
f1: {is: lavatory, supply: {stop: angle}}
f2: {is: shower}
f3: {is: toilet, supply: {stop: angle}}
"""
_ALL_ENDS = [
    *(f"ra/{port}" for port in ("in", 1, 2, 3, 4)),
    *(f"rb/{port}" for port in ("in", 1, 2, 3)),
    *(f"heater/{end}" for end in ("cold", "hot", "return")),
    *(f"mv/{end}" for end in ("cold", "hot", "mixed")),
    *(f"{part}/{end}" for part in ("v1", "v2", "v3", "k") for end in ("in", "out")),
    *(f"{tee}/{end}" for tee in ("t1", "t2", "t3") for end in ("in", "out", "branch")),
    *(f"{part}/{end}" for part in ("f1", "f2") for end in ("cold", "hot")),
    "f3",
]
_FIXED = [
    ("street", "ra/in"),
    ("ra/1", "t1/in"),
    ("ra/2", "v1/in"),
    ("ra/4", "t2/in"),
    ("v1/out", "rb/in"),
    ("rb/2", "t3/in"),
]
ANY_ENDS = [end for end in _ALL_ENDS if not any(end in pair for pair in _FIXED)]


def any_lines(ends: list[str], pairs: int) -> list[str]:
    """Lines of runs: the fixed ones, then so many pairs of the ends as they come."""
    joined = [*_FIXED, *((ends[2 * n], ends[2 * n + 1]) for n in range(pairs))]
    return [f"r{n}: {a} > {b}" for n, (a, b) in enumerate(joined)]
