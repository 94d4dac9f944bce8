"""Plain networks: nodes of known head, nodes with a draw, and edges with a law of loss. No plan, no house.

Heads are metres of water over one zero (height and pressure together), flows and draws m3/s, lengths and bores metres.
"""

import math
from collections import Counter
from collections.abc import Mapping

from plancheck.record import NamedTuple

G = 9.80665  # m/s2, standard gravity
SMOOTH_M = 1.5e-6  # roughness of drawn tubing (a public table of surfaces, read); plastic tube is no rougher
COLD_M2_S = 1.12e-6  # kinematic viscosity at 60 degF


class Darcy(NamedTuple):
    """A pipe by Darcy and Weisbach with Churchill's friction factor; k: minor losses referred to its own speed."""

    length_m: float
    bore_m: float
    k: float = 0.0
    roughness_m: float = SMOOTH_M
    viscosity_m2_s: float = COLD_M2_S
    g: float = G


class HazenWilliams(NamedTuple):
    """A pipe by Hazen and Williams: omega L q^n / (c^n D^m). Its constants are part of it, since published ones differ."""

    length_m: float
    bore_m: float
    c: float
    omega: float = 10.667
    n: float = 1.852
    m: float = 4.871


class Quadratic(NamedTuple):
    """Loss r q^2, either way: a fitting, a valve, a meter. r in s2/m5."""

    r: float


class Linear(NamedTuple):
    """Loss r q. r in s/m2."""

    r: float


class OneWay(NamedTuple):
    """Loss r q^2 from a to b, and nothing back: a check valve, an arrow on a body."""

    r: float


class Outlet(NamedTuple):
    """An opening: loss r q^2 from a to b, nothing back; most_m3s: the flow a regulated one is held to."""

    r: float
    most_m3s: float = math.inf


class Regulator(NamedTuple):
    """Holds the head at b to set_m less fall x flow while the head at a allows it; else it is open with loss r q^2."""

    set_m: float
    fall_s_m2: float
    r: float


ONE_WAY = (OneWay, Outlet, Regulator)  # nothing goes from b to a
Law = Darcy | HazenWilliams | Quadratic | Linear | OneWay | Outlet | Regulator


class Edge(NamedTuple):
    """One edge from node a to node b; shut: nothing passes."""

    id: str
    a: str
    b: str
    law: Law
    shut: bool = False


class Network(NamedTuple):
    """A plain network: known heads by node, draws by node (left out: none), edges. Nodes are named by their use."""

    heads: Mapping[str, float]
    edges: tuple[Edge, ...]
    draws: Mapping[str, float] = {}


class WrongNetwork(ValueError):
    """A network that cannot be solved as it is written; its text says why."""


def check_network(network: Network) -> None:
    """Raises WrongNetwork: an edge twice, a node that is not there, a draw at a known head, a figure out of its range."""
    ids = {edge.id for edge in network.edges}
    if len(ids) != len(network.edges):
        raise WrongNetwork(f"the edge {_twice(network)!r} is there twice")
    if not network.heads:
        raise WrongNetwork("no node has a known head")
    for node, head in network.heads.items():
        if not math.isfinite(head):
            raise WrongNetwork(f"the head at {node!r} is {head}")
    if network.draws:
        _check_draws(network)
    for edge in network.edges:
        _check_edge(edge)
        if isinstance(edge.law, Regulator) and edge.b in network.heads:
            raise WrongNetwork(f"the regulator {edge.id!r} leads to a node of known head")


def _twice(network: Network) -> str:
    count = Counter(edge.id for edge in network.edges)
    return next(name for name, times in count.items() if times > 1)


_POSITIVE = (5e-324, 1.7e308)
_NOT_NEGATIVE = (0.0, 1.7e308)
_ANY = (-1.7e308, 1.7e308)
_RANGES: dict[type[Law], tuple[tuple[float, float], ...]] = {
    Darcy: (_NOT_NEGATIVE, _POSITIVE, _NOT_NEGATIVE, _NOT_NEGATIVE, _POSITIVE, _POSITIVE),
    HazenWilliams: (_NOT_NEGATIVE, _POSITIVE, _POSITIVE, _POSITIVE, (1.0, 3.0), _ANY),
    Quadratic: (_NOT_NEGATIVE,),
    Linear: (_NOT_NEGATIVE,),
    OneWay: (_NOT_NEGATIVE,),
    Outlet: (_POSITIVE, (5e-324, math.inf)),
    Regulator: (_ANY, _NOT_NEGATIVE, _NOT_NEGATIVE),
}


def _check_edge(edge: Edge) -> None:
    law = edge.law
    if edge.a == edge.b:
        raise WrongNetwork(f"the edge {edge.id!r} begins and ends at the node {edge.a!r}")
    for place, (value, (least, most)) in enumerate(zip(law, _RANGES[type(law)], strict=True)):
        if not least <= value <= most:
            end = "; a loss that falls with the flow has no answer" if value < 0.0 else ""
            raise WrongNetwork(f"the edge {edge.id!r} has {law._fields[place]} = {value}{end}")


def _check_draws(network: Network) -> None:
    nodes = {node for edge in network.edges for node in (edge.a, edge.b)}
    for node, draw in network.draws.items():
        if node not in nodes:
            raise WrongNetwork(f"no edge ends at the node {node!r}")
        if node in network.heads:
            raise WrongNetwork(f"the node {node!r} has a known head, so it can have no draw")
        if not math.isfinite(draw):
            raise WrongNetwork(f"the draw at {node!r} is {draw}")
