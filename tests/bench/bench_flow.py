"""How fast networks are solved, as ratios measured in one run.

    .venv/bin/python -m tests.bench.bench_flow

- one house of 43 unknown nodes, one scenario in floats, against scipy.optimize.root (hybr, unknowns scaled, its import not
  counted) on the same equations, on arrays;
- all 1,023 combinations of ten open fixtures of one house, scenarios a second;
- blocks of flats of 1,000 to 28,000 nodes from graph to solution, and the power of the number of nodes that their time
  grows with.
Beside each stands a floor: what the laws of loss alone take. Nothing is collected while it runs, as in the command.
"""

from __future__ import annotations

import gc
import math
import time
from collections.abc import Callable

import numpy as np
from scipy.optimize import root

from plancheck.hydraulics import laws
from plancheck.hydraulics.compiled import Compiled, compile_network
from plancheck.hydraulics.laws import Tools
from plancheck.hydraulics.loss import FLOATS
from plancheck.hydraulics.plain import Network
from plancheck.hydraulics.solving import solve, solve_many
from plancheck.hydraulics.trim import trim
from tests.hydraulics.houses import House, block, fixed_house


def best(call: Callable[[], object], times: int = 15) -> float:
    """The fewest seconds of several calls."""
    return fewest(times, call)[0]


def fewest(times: int, *calls: Callable[[], object]) -> list[float]:
    """The fewest seconds of each of several calls, made in turn so that a slow stretch of the machine meets them all."""
    found = [math.inf] * len(calls)
    for _ in range(times):
        for place, call in enumerate(calls):
            start = time.perf_counter()
            call()
            found[place] = min(found[place], time.perf_counter() - start)
    return found


def laws_alone(network: Network, rounds: int) -> Callable[[], object]:
    """The floor: nothing but the loss and slope of every edge that passes water, so many times."""
    groups = compile_network(trim(network).network).groups

    def call() -> None:
        for _ in range(rounds):
            for law, _, _, rows in groups:
                for own in rows:
                    law(1e-4, *own, FLOATS)

    return call


def both_ways(q: np.ndarray, r: np.ndarray, figure: np.ndarray, tools: Tools) -> tuple[np.ndarray, np.ndarray]:
    """A one-way edge as a quadratic one: hybr fails on a kink, and where every flow goes ahead the answer is the same."""
    return laws.quadratic(q, r, tools)


def held_both_ways(q: np.ndarray, r: np.ndarray, most: np.ndarray, tools: Tools) -> tuple[np.ndarray, np.ndarray]:
    """A regulated outlet, the same either way."""
    loss, slope = laws.held(np.abs(q), r, most, tools)
    return np.sign(q) * loss, slope


def equations_of(network: Network, scale: float) -> tuple[Callable[[np.ndarray], np.ndarray], np.ndarray, Compiled]:
    """The same equations on arrays, the start, and the network: flows in `scale` m3/s, then heads in 10 m, as unknowns.

    First each edge's loss against the heads at its ends, then each node's balance.
    """
    compiled = compile_network(trim(network).network)
    tools = (np.log, np.maximum, np.where)
    instead = {laws.one_way: both_ways, laws.held: held_both_ways}
    groups = [
        (slice(group.start, group.stop), instead.get(group.law, group.law), np.array(group.figures).T)
        for group in compiled.groups
    ]
    count, free = len(compiled.edges), compiled.unknown
    ends = np.zeros((count, len(compiled.nodes)))
    for place, (a, b) in enumerate(compiled.ends):
        ends[place, a] += 1.0
        ends[place, b] -= 1.0
    inner, known = ends[:, :free].copy(), ends[:, free:] @ np.array(compiled.heads)

    def equations(x: np.ndarray) -> np.ndarray:
        flows = x[:count] * scale
        loss = np.empty(count)
        for rows, law, figures in groups:
            loss[rows] = law(flows[rows], *figures, tools)[0]
        return np.concatenate(((loss - 10.0 * inner @ x[count:] - known) * 0.1, inner.T @ x[:count]))

    start = np.concatenate((np.array(compiled.start) / scale, np.full(free, max(compiled.heads) / 10.0)))
    return equations, start, compiled


def against_root(network: Network) -> None:
    """Prints the time of one scenario and its ratio to the faster of two scalings with which hybr finds the same flows."""
    solution = solve(network)
    calls: list[Callable[[], object]] = [lambda: solve(network), laws_alone(network, solution.rounds)]
    for scale in (1e-4, 1e-3):
        equations, start, compiled = equations_of(network, scale)
        result = root(equations, start, method="hybr", tol=1e-9)
        flows = np.array([solution.flows[edge.id] for edge in compiled.edges])
        if result.success and np.abs(result.x[: len(flows)] * scale - flows).max() < 1e-8:
            calls.append(lambda e=equations, s=start: root(e, s, method="hybr", tol=1e-9))  # type: ignore[misc]
    one, floor, *others = fewest(12, *calls)
    ratio = f"{min(others) / one:.1f}" if others else "hybr does not find the answer"
    print(f"  {compiled.unknown} of its nodes pass water: {one * 1e3:.2f} ms, {solution.rounds} rounds", end="")
    print(f"   (goal at most 1.5; the laws alone {floor * 1e3:.2f})")
    print(f"  scipy root hybr / ours: {ratio}   (goal at least 12)")


def main() -> None:
    """Prints the ratios and the goal beside each."""
    gc.disable()
    house = fixed_house()
    compiled = compile_network(house.network)
    print(f"house of {compiled.unknown} unknown nodes, {len(compiled.edges)} edges, one scenario in floats")
    against_root(house.with_open(frozenset(("shower", "toilet", "kitchen-cold", "washer"))))
    against_root(house.with_open(frozenset(house.fixtures) - {"shower"}))
    everything = best(lambda: solve(house.network), 60)
    print(f"  everything open, all nodes: {everything * 1e3:5.2f} ms   (goal at most 1.5)")
    _combinations(house, compiled)
    _blocks()


def _combinations(house: House, compiled: Compiled) -> None:
    """All sets of ten fixtures but the empty one; both orifices of a mixing valve shut with its outlet."""
    names = {edge.id: place for place, edge in enumerate(compiled.edges)}
    shut = np.zeros((len(names), 1023), dtype=bool)
    columns = np.arange(1, 1024)
    for number, edges in enumerate(house.fixtures.values()):
        for edge in edges:
            shut[names[edge]] = (columns >> number) & 1 == 0  # the fixtures after the tenth are shut in all of them
    found = solve_many(compiled, shut)
    assert found.converged.all()
    pipes = next(group for group in compiled.groups if group.law is laws.darcy)
    figures = np.array(pipes.figures).T[:, :, None]
    flows = np.full(
        (len(pipes.figures), 64), 1e-4
    )  # sixteen such blocks are the 1,023, each small enough for the cache

    def floor() -> None:
        for _ in range(16 * found.rounds):
            laws.darcy(flows, *figures, (np.log, np.maximum, np.where))

    many, alone = fewest(20, lambda: solve_many(compiled, shut), floor)
    print(f"1,023 combinations: {1023 / many:,.0f} a second, {found.rounds} rounds at most", end="")
    print(f"   (goal at least 20,000; friction alone {1023 / alone:,.0f})")


def _blocks() -> None:
    networks = [block(flats) for flats in (24, 96, 330, 665)]
    sizes = [len({node for edge in network.edges for node in (edge.a, edge.b)}) for network in networks]
    times = fewest(5, *(lambda one=network: solve(one) for network in networks))  # type: ignore[misc]
    for network, nodes, seconds in zip(networks, sizes, times, strict=True):
        rounds = solve(network).rounds
        floor = best(laws_alone(network, rounds), 2)
        print(
            f"block of {nodes:6,} nodes: {seconds * 1e3:5.0f} ms, {rounds} rounds   (the laws alone {floor * 1e3:.0f})"
        )
    power = np.polyfit(np.log(sizes), np.log(times), 1)[0]
    print(f"time grows as nodes to the {power:.2f}   (goal at most 1.2; 28,000 nodes under 2 s)")


if __name__ == "__main__":
    main()
