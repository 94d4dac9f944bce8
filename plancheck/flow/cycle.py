"""A single ring with fixed draws: one unknown, the flow that goes round one way, found by Newton's method on one equation."""

import math
from collections.abc import Mapping, Sequence

from plancheck.hydraulics.fold import kind_of, put_together
from plancheck.hydraulics.loss import lines_of, loss_m
from plancheck.hydraulics.plain import Darcy, Edge, HazenWilliams, Law, Linear, Quadratic
from plancheck.hydraulics.solving import Solution

_NEAR = 1e-13  # of all that is drawn
_MOST_ROUNDS = 60
_BOTH_WAYS = (Darcy, HazenWilliams, Quadratic, Linear)


Ring = list[
    tuple[Edge, int]
]  # its edges in the order one walks round, each with 1, or -1 where it is laid the other way


def solve_cycle(
    steps: Ring | None, entry: str, head_m: float, draws: Mapping[str, float], laws: Mapping[str, Law]
) -> Solution | None:
    """The heads and flows of a ring (ring_of) fed at one node; None where it is none. laws: other laws of edges.

    draws: node -> m3/s, none negative.
    """
    total = sum(draws.values())
    if steps is None or total <= 0.0 or min(draws.values()) < 0.0:
        return None
    if laws and any(edge.id in laws for edge, _ in steps):
        if not all(isinstance(laws[edge.id], _BOTH_WAYS) for edge, _ in steps if edge.id in laws):
            return None
        steps = [(edge._replace(law=laws.get(edge.id, edge.law)), way) for edge, way in steps]
    taken, node, drawn = [], entry, 0.0
    for edge, way in steps:
        taken.append(drawn)
        node = edge.b if way > 0 else edge.a
        drawn += draws.get(node, 0.0)
    first, rounds, last = _first_flow(steps, taken, total)
    if rounds > _MOST_ROUNDS:
        return Solution({}, {}, rounds, last, math.inf, f"the flow round a ring still changes by {last:.1e} m3/s")
    heads: dict[str, float | None] = {entry: head_m}
    flows: dict[str, float] = {}
    head, node = head_m, entry
    for (edge, way), before in zip(steps, taken, strict=True):
        flow = first - before
        flows[edge.id] = way * flow
        head -= way * loss_m(edge.law, way * flow)
        node = edge.b if way > 0 else edge.a
        if node != entry:
            heads[node] = head
    return Solution(heads, flows, rounds, last, 0.0)


def ring_of(edges: Sequence[Edge], entry: str) -> Ring | None:
    """A ring as one walks round it from the entry; None where the edges are no single ring that lets water both ways."""
    near: dict[str, list[Edge]] = {}
    for edge in edges:
        if not isinstance(edge.law, _BOTH_WAYS) or edge.shut or edge.a == edge.b:
            return None
        near.setdefault(edge.a, []).append(edge)
        near.setdefault(edge.b, []).append(edge)
    if len(near) != len(edges) or entry not in near or any(len(around) != 2 for around in near.values()):
        return None
    found: list[tuple[Edge, int]] = []
    node, last = entry, near[entry][1]
    while True:
        step = near[node][0] if near[node][1] is last else near[node][1]
        if found and step is found[0][0]:
            return found if len(found) == len(edges) else None
        found.append((step, 1 if step.a == node else -1))
        node = step.b if step.a == node else step.a
        last = step
        if node == entry:
            return found if len(found) == len(edges) else None


def _first_flow(steps: Sequence[tuple[Edge, int]], taken: Sequence[float], total: float) -> tuple[float, int, float]:
    """The flow on the first edge so that nothing is lost once round; how many rounds it took, and the last change."""
    parts = _parts(steps, taken)
    low, high, flow = 0.0, total, total / 2.0
    step = total
    for number in range(1, _MOST_ROUNDS + 1):
        loss, slope = 0.0, 0.0
        for law, before in parts:
            one, rise = lines_of(law, flow - before)
            loss += one
            slope += rise
        low, high = (low, flow) if loss > 0.0 else (flow, high)
        new = flow - loss / slope if slope > 0.0 else (low + high) / 2.0
        if not low <= new <= high:
            new = (low + high) / 2.0
        step, flow = abs(new - flow), new
        if step <= _NEAR * total:
            return flow, number, step
    return flow, _MOST_ROUNDS + 1, step


def _parts(steps: Sequence[tuple[Edge, int]], taken: Sequence[float]) -> list[tuple[Law, float]]:
    """The laws once round, those of one kind that carry the same put together."""
    found: list[tuple[list[Law], float]] = []
    for (edge, _), before in zip(steps, taken, strict=True):
        if (
            found
            and found[-1][1] == before
            and kind_of(edge.law) is not None
            and kind_of(edge.law) == kind_of(found[-1][0][0])
        ):
            found[-1][0].append(edge.law)
        else:
            found.append(([edge.law], before))
    return [(put_together(laws) if len(laws) > 1 else laws[0], before) for laws, before in found]
