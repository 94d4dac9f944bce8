"""Many scenarios at once: the rounds of Newton's method on rows of numpy arrays, a column for each scenario."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from plancheck.hydraulics.compiled import Compiled, Group
from plancheck.hydraulics.newton import ENOUGH, LEAST_SLOPE, STILL, Numbers, iterate
from plancheck.hydraulics.plain import ONE_WAY, WrongNetwork
from plancheck.hydraulics.solving import Solutions

_BLOCK = 4096  # figures worked at once: small enough to stay near the processor


def many(
    compiled: Compiled,
    shut: Any,
    heads: Mapping[str, Sequence[float]],
    draws: Mapping[str, Sequence[float]],
    scenarios: int | None,
    chunk: int,
) -> Solutions:
    """Solves many scenarios, so many at once. See solving.solve_many."""
    width = _width(shut, heads, draws, scenarios)
    count = compiled.unknown
    _check_names(compiled, heads, draws)
    opened = np.array([[0.0 if edge.shut else 1.0] for edge in compiled.edges]) * np.ones((1, width))
    if shut is not None:
        opened[np.asarray(shut, dtype=bool)] = 0.0
    fed = _fed(compiled, opened)
    known = _rows(compiled.nodes[count:], compiled.heads, heads, width)
    drawn = _rows(compiled.nodes[:count], compiled.draws, draws, width)
    flows, level = np.empty((len(compiled.edges), width)), np.empty((len(compiled.nodes), width))
    good = np.empty(width, dtype=bool)
    most = 0
    for start in range(0, width, chunk):
        part = slice(start, min(start + chunk, width))
        ended = iterate(
            compiled, _numbers(compiled, part.stop - start), known[:, part], drawn[:, part], opened[:, part]
        )
        flows[:, part], level[:, part] = ended.flows, ended.heads
        good[part] = ended.change <= ENOUGH * ended.flow + STILL
        most = max(most, ended.rounds)
    off = _imbalance(compiled, flows, drawn)
    good &= ~np.any(~fed[:count] & (drawn != 0.0), axis=0)
    level[~fed] = np.nan
    flows[:, ~good] = level[:, ~good] = np.nan
    worst = float(off[good].max()) if good.any() else float("inf")
    return Solutions(compiled.nodes, tuple(edge.id for edge in compiled.edges), level, flows, good, most, worst)


def _width(shut: Any, heads: Mapping[str, Any], draws: Mapping[str, Any], scenarios: int | None) -> int:
    said = {len(one) for one in (*heads.values(), *draws.values())}
    if shut is not None:
        said.add(np.asarray(shut).shape[1])
    if scenarios is not None:
        said.add(scenarios)
    if len(said) != 1:
        raise WrongNetwork(f"how many scenarios? {sorted(said) or 'nothing says it'}")
    return said.pop()


def _check_names(compiled: Compiled, heads: Mapping[str, Any], draws: Mapping[str, Any]) -> None:
    for node in heads:
        if node not in compiled.nodes[compiled.unknown :]:
            raise WrongNetwork(f"the node {node!r} is none of known head")
    for node in draws:
        if node not in compiled.nodes[: compiled.unknown]:
            raise WrongNetwork(f"the node {node!r} can have no draw")


def _fed(compiled: Compiled, opened: Any) -> Any:
    """Whether water can come to each node, by scenario; edges from or to where it cannot are closed in `opened`."""
    fed = np.zeros((len(compiled.nodes), opened.shape[1]), dtype=bool)
    fed[compiled.unknown :] = True
    order = _outwards(compiled)
    before = -1
    while before != (before := int(fed.sum())):
        for edge in order:
            a, b = compiled.ends[edge]
            passes = opened[edge] > 0.0
            fed[b] |= fed[a] & passes
            if not isinstance(compiled.edges[edge].law, ONE_WAY):
                fed[a] |= fed[b] & passes
    for edge, (a, b) in enumerate(compiled.ends):
        opened[edge] *= fed[a] & fed[b]
    return fed


def _outwards(compiled: Compiled) -> list[int]:
    """Edges from the known heads outwards, so that one pass along them reaches most nodes."""
    near: list[list[tuple[int, int]]] = [[] for _ in compiled.nodes]
    for edge, (a, b) in enumerate(compiled.ends):
        near[a].append((edge, b))
        near[b].append((edge, a))
    queue = list(range(compiled.unknown, len(compiled.nodes)))
    seen, order = set(queue), dict[int, bool]()
    for node in queue:
        for edge, other in near[node]:
            order[edge] = True
            if other not in seen:
                seen.add(other)
                queue.append(other)
    return list(order)


def _rows(nodes: Sequence[str], own: Sequence[float], other: Mapping[str, Sequence[float]], width: int) -> Any:
    found = np.empty((len(nodes), width))
    for place, (node, value) in enumerate(zip(nodes, own, strict=True)):
        found[place] = other.get(node, value)
    return found


def _numbers(compiled: Compiled, width: int) -> Numbers:
    tools = (np.log, np.maximum, np.where)
    step = max(1, _BLOCK // width)
    blocks = [
        (slice(start, min(start + step, group.stop)), group.law, _columns(group, start, start + step))
        for group in compiled.groups
        for start in range(group.start, group.stop, step)
    ]

    def lines(compiled: Compiled, flows: Any, opened: Any) -> tuple[Any, Any]:
        steep, still = np.empty_like(flows), np.empty_like(flows)
        for rows, law, figures in blocks:
            loss, slope = law(flows[rows], *figures, tools)
            one = opened[rows] / np.maximum(slope, LEAST_SLOPE)
            steep[rows] = one
            still[rows] = opened[rows] * flows[rows] - loss * one
        return steep, still

    def blank(number: int, figure: float) -> Any:
        return np.full((number, width), figure)

    def change(new: Any, old: Any) -> tuple[Any, Any]:
        return np.abs(new - old).max(axis=0, initial=0.0), np.abs(new).max(axis=0, initial=0.0)

    def near(changed: Any, flow: Any, settled: Any) -> bool:
        return bool(np.all((changed <= ENOUGH * flow + STILL) & (np.asarray(settled) == 1.0)))

    return Numbers(tools, lines, blank, change, near)


def _columns(group: Group, start: int, stop: int) -> Any:
    """The law's figures for some edges of a group, each as a column."""
    return np.array(group.figures[start - group.start : stop - group.start]).T[:, :, None]


def _imbalance(compiled: Compiled, flows: Any, draws: Any) -> Any:
    sums = -draws
    for place, (a, b) in enumerate(compiled.ends):
        if a < compiled.unknown:
            sums[a] -= flows[place]
        if b < compiled.unknown:
            sums[b] += flows[place]
    return np.abs(sums).max(axis=0, initial=0.0)
