"""How fast networks are solved, as ratios measured in one run.

    .venv/bin/python -m tests.bench.bench_flow

- one house of 43 unknown nodes, one scenario in floats, against scipy.optimize.root (hybr, unknowns scaled, its import not
  counted) on the same equations;
- all 1,023 combinations of ten open fixtures of one house, scenarios a second;
- blocks of flats of 1,000 to 28,000 nodes from graph to solution, and the power of the number of nodes that their time
  grows with.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable

import numpy as np
from scipy.optimize import root

from plancheck.hydraulics.compiled import compile_network
from plancheck.hydraulics.loss import loss_m
from plancheck.hydraulics.plain import Network
from plancheck.hydraulics.solving import solve, solve_many
from plancheck.hydraulics.trim import trim
from tests.hydraulics.houses import block, fixed_house


def best(call: Callable[[], object], times: int = 15) -> float:
    """The fewest seconds of several calls."""
    found = math.inf
    for _ in range(times):
        start = time.perf_counter()
        call()
        found = min(found, time.perf_counter() - start)
    return found


def by_root(network: Network) -> tuple[Callable[[], object], float]:
    """The same equations for scipy's root finder: flows in 1e-4 m3/s and heads in 10 m as unknowns; and how far it is off."""
    moving = trim(network).network
    names = [node for edge in moving.edges for node in (edge.a, edge.b) if node not in moving.heads]
    nodes = {node: place for place, node in enumerate(dict.fromkeys(names))}
    count = len(moving.edges)

    def equations(x: np.ndarray) -> np.ndarray:
        flows, heads = x[:count] * 1e-4, x[count:] * 10.0
        found = np.zeros(count + len(nodes))
        for place, edge in enumerate(moving.edges):
            a = heads[nodes[edge.a]] if edge.a in nodes else moving.heads[edge.a]
            b = heads[nodes[edge.b]] if edge.b in nodes else moving.heads[edge.b]
            found[place] = (a - b - loss_m(edge.law, float(flows[place]))) / 10.0
            if edge.a in nodes:
                found[count + nodes[edge.a]] -= x[place]
            if edge.b in nodes:
                found[count + nodes[edge.b]] += x[place]
        return found

    solution = solve(network)
    start = np.concatenate([np.full(count, 1.0), np.full(len(nodes), 3.0)])

    def call() -> object:
        return root(equations, start, method="hybr")

    result = root(equations, start, method="hybr")
    off = max(abs(result.x[place] * 1e-4 - solution.flows[edge.id]) for place, edge in enumerate(moving.edges))
    return call, float(off)


def main() -> None:
    """Prints the ratios and the goal beside each."""
    house = fixed_house()
    opened = ("shower", "toilet", "kitchen-cold", "washer")
    network = house.with_open(frozenset(opened))
    compiled = compile_network(house.network)
    one = best(lambda: solve(network), 60)
    call, off = by_root(network)
    other = best(call, 3)
    print(f"house of {compiled.unknown} unknown nodes, {len(compiled.edges)} edges, {len(opened)} fixtures open")
    print(f"one scenario, floats           {one * 1e3:7.2f} ms   (goal at most 1.5)")
    print(
        f"scipy root hybr / ours         {other / one:7.1f}      (goal at least 12; its flows differ by {off:.0e} m3/s)"
    )
    names = [edge.id for edge in compiled.edges]
    ten = list(house.fixtures)[:10]
    shut = np.zeros((len(names), 1023), dtype=bool)
    for number, fixture in enumerate(house.fixtures):
        closed = [not (column >> number) & 1 for column in range(1, 1024)] if fixture in ten else [True] * 1023
        for edge in house.fixtures[fixture]:
            shut[names.index(edge)] = closed
    found = solve_many(compiled, shut)
    many = best(lambda: solve_many(compiled, shut), 7)
    assert found.converged.all()
    print(f"1,023 combinations             {1023 / many:7.0f} /s   (goal at least 20,000; most rounds {found.rounds})")
    _blocks()


def _blocks() -> None:
    sizes = []
    for flats in (24, 96, 330, 660):
        network = block(flats)
        nodes = len({node for edge in network.edges for node in (edge.a, edge.b)})
        seconds = best(lambda network=network: solve(network), 2)  # type: ignore[misc]
        sizes.append((nodes, seconds))
        print(f"block of {nodes:6,} nodes           {seconds * 1e3:7.0f} ms")
    (small, first), (large, last) = sizes[0], sizes[-1]
    power = math.log(last / first) / math.log(large / small)
    print(f"time grows as nodes to the     {power:7.2f}      (goal at most 1.2; 28,000 nodes under 2 s)")


if __name__ == "__main__":
    main()
