"""A plain network made ready for the numbers: edges in order of their law, nodes by number, one order of elimination."""

from collections.abc import Mapping
from math import inf, pi, sqrt
from typing import Any

from plancheck.hydraulics import laws
from plancheck.hydraulics.order import Schedule, schedule
from plancheck.hydraulics.plain import (
    Darcy,
    Edge,
    HazenWilliams,
    Law,
    Linear,
    Network,
    OneWay,
    Outlet,
    Quadratic,
    Regulator,
    check_network,
)
from plancheck.record import NamedTuple

_START_M_S = 0.5  # speed in pipes at the start
_START_M3S = 1e-4  # flow in other edges at the start, at least
_START_M = 1.0  # head lost in quadratic edges at the start
_LEAST_FALL = 1e-2  # s/m2: what falls off behind a regulator said to have no fall-off, 0.01 mm of water at 1 L/s


class Group(NamedTuple):
    """Edges of one law, which stand next to each other; figures: for each edge what the law wants to know."""

    law: Any
    start: int
    stop: int
    figures: tuple[tuple[float, ...], ...]


class Valve(NamedTuple):
    """A regulator: its edge, from node a to node b; set_m less fall x flow is the head it holds; slot of a and b or -1."""

    edge: int
    a: int
    b: int
    set_m: float
    fall: float
    r: float
    slot: int


class Compiled(NamedTuple):
    """A network ready to be solved.

    edges: in order of their law, the regulators last; nodes: unknown ones first (as many as `unknown`), then those of
    known head; ends: node numbers of each edge; within, into, out: edges between two unknown nodes with the slot of the
    pair, from a known head into an unknown node, and out of it; valves: the regulators.
    """

    edges: tuple[Edge, ...]
    nodes: tuple[str, ...]
    unknown: int
    heads: tuple[float, ...]
    draws: tuple[float, ...]
    ends: tuple[tuple[int, int], ...]
    within: tuple[tuple[int, int, int, int], ...]
    into: tuple[tuple[int, int, int], ...]
    out: tuple[tuple[int, int, int], ...]
    valves: tuple[Valve, ...]
    groups: tuple[Group, ...]
    order: Schedule
    start: tuple[float, ...]


def compile_network(network: Network) -> Compiled:
    """The network made ready. Raises WrongNetwork where it cannot be solved as it is written."""
    check_network(network)
    return made_ready(network)


def made_ready(network: Network) -> Compiled:
    """A checked network made ready."""
    rows = sorted((_which(edge.law), place) for place, edge in enumerate(network.edges))
    edges = tuple(network.edges[place] for _, place in rows)
    free = dict.fromkeys(node for edge in edges for node in (edge.a, edge.b) if node not in network.heads)
    nodes = (*free, *network.heads)
    number = {node: place for place, node in enumerate(nodes)}
    ends = tuple((number[edge.a], number[edge.b]) for edge in edges)
    count = len(free)
    order = schedule(count, (pair for pair in ends if pair[0] < count and pair[1] < count))
    within, into, out, valves = _sorted_out(edges, ends, count, order)
    return Compiled(
        edges, nodes, count, tuple(network.heads.values()), tuple(network.draws.get(node, 0.0) for node in free),
        ends, tuple(within), tuple(into), tuple(out), tuple(valves), _groups(edges), order,
        tuple(_start(edge) for edge in edges),
    )  # fmt: skip


def _sorted_out(edges: tuple[Edge, ...], ends: tuple[tuple[int, int], ...], count: int, order: Schedule) -> tuple[
    list[tuple[int, int, int, int]], list[tuple[int, int, int]], list[tuple[int, int, int]],
    list[Valve],
]:  # fmt: skip
    within, into, out, valves = [], [], [], []
    for place, ((a, b), edge) in enumerate(zip(ends, edges, strict=True)):
        slot = order.slot.get((a, b) if a < b else (b, a), -1)
        if isinstance(edge.law, Regulator):
            valves.append(Valve(place, a, b, edge.law.set_m, max(edge.law.fall_s_m2, _LEAST_FALL), edge.law.r, slot))
        elif a < count and b < count:
            within.append((place, a, b, slot))
        elif b < count:
            into.append((place, a, b))
        elif a < count:
            out.append((place, a, b))
    return within, into, out, valves


def _groups(edges: tuple[Edge, ...]) -> tuple[Group, ...]:
    found = []
    start = 0
    while start < len(edges):
        which = _which(edges[start].law)
        stop = start
        while stop < len(edges) and _which(edges[stop].law) == which:
            stop += 1
        found.append(Group(_TEXTS[which], start, stop, tuple(_figures(edge.law) for edge in edges[start:stop])))
        start = stop
    return tuple(found)


_LAWS = {Darcy: 0, HazenWilliams: 1, Quadratic: 2, Linear: 3, OneWay: 4, Outlet: 5, Regulator: 6}
_TEXTS = (laws.darcy, laws.power, laws.quadratic, laws.linear, laws.one_way, laws.held, laws.one_way)


def _which(law: Law) -> int:
    return _LAWS[OneWay] if isinstance(law, Outlet) and law.most_m3s == inf else _LAWS[type(law)]


def _figures(law: Law) -> tuple[float, ...]:
    if isinstance(law, Darcy):
        area = 8.0 / (pi * pi * law.g * law.bore_m**4)
        per = 4.0 / (pi * law.bore_m * law.viscosity_m2_s)
        return area * law.length_m / law.bore_m, per, 0.27 * law.roughness_m / law.bore_m, area * law.k
    if isinstance(law, HazenWilliams):
        return law.omega * law.length_m / (law.c**law.n * law.bore_m**law.m), law.n
    if isinstance(law, Outlet) and law.most_m3s < inf:
        return law.r, law.most_m3s
    if isinstance(law, Outlet | OneWay | Regulator):
        return law.r, laws.SEALED if isinstance(law, Outlet) else laws.BACK
    return (law.r,)


def _start(edge: Edge) -> float:
    law = edge.law
    if isinstance(law, Darcy | HazenWilliams):
        return _START_M_S * 0.25 * pi * law.bore_m**2
    if isinstance(law, Quadratic) and law.r > 0.0:
        return max(_START_M3S, sqrt(_START_M / law.r))  # from far too little each round only halves what is too much
    return _START_M3S


def with_laws(compiled: Compiled, laws: Mapping[str, Law]) -> Compiled:
    """The same network with other figures for some edges; each law is of the kind it takes the place of."""
    groups = []
    for group in compiled.groups:
        figures = list(group.figures)
        for place in range(group.start, group.stop):
            law = laws.get(compiled.edges[place].id)
            if law is not None:
                figures[place - group.start] = _figures(law)
        groups.append(group._replace(figures=tuple(figures)))
    return compiled._replace(groups=tuple(groups))


def law_text(law: Law) -> tuple[Any, tuple[float, ...]]:
    """The function of a law, and its figures."""
    return _TEXTS[_which(law)], _figures(law)
