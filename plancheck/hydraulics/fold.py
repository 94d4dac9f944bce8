"""Edges of one kind that follow each other without a draw between them, solved as one."""

from collections.abc import Iterable, Sequence

from plancheck.hydraulics.loss import loss_m
from plancheck.hydraulics.plain import Darcy, Edge, Law, Network, Quadratic
from plancheck.record import NamedTuple


class Chain(NamedTuple):
    """An edge that stands for several; parts: in order from its a to its b, each with 1, or -1 where it is laid the other way."""

    edge: Edge
    parts: tuple[tuple[Edge, int], ...]


def fold(network: Network) -> tuple[Network, tuple[Chain, ...]]:
    """The network with pipes of one bore, and quadratic losses, put together along chains; and what was put together.

    Nodes inside a chain are left out: their heads follow from the losses of its parts. A chain that comes back to its own
    start carries nothing and is left out.
    """
    near: dict[str, list[Edge]] = {}
    for edge in network.edges:
        near.setdefault(edge.a, []).append(edge)
        near.setdefault(edge.b, []).append(edge)
    inner = {
        node
        for node, around in near.items()
        if len(around) == 2 and node not in network.heads and not network.draws.get(node) and _same(around)
    }
    if not inner:
        return network, ()
    kept: list[Edge] = []
    chains: list[Chain] = []
    seen: set[str] = set()
    for edge in network.edges:
        if edge.id in seen:
            continue
        if edge.a not in inner and edge.b not in inner:
            kept.append(edge)
            continue
        parts, start, end = _along(edge, near, inner)
        seen.update(part.id for part, _ in parts)
        chain = Chain(Edge(edge.id, start, end, put_together([part.law for part, _ in parts])), tuple(parts))
        chains.append(chain)
        if start != end:
            kept.append(chain.edge)
    return network._replace(edges=tuple(kept)), tuple(chains)


def _same(around: Sequence[Edge]) -> bool:
    one, other = around
    if one.shut or other.shut or one.id == other.id or one.a == one.b or other.a == other.b:
        return False
    kind = kind_of(one.law)
    return kind is not None and kind == kind_of(other.law)


def kind_of(law: Law) -> tuple[float, ...] | None:
    """What two laws must share to be put together; None where a law cannot be."""
    if isinstance(law, Darcy):
        return law.bore_m, law.viscosity_m2_s, law.roughness_m, law.g
    return () if isinstance(law, Quadratic) else None


def _along(edge: Edge, near: dict[str, list[Edge]], inner: set[str]) -> tuple[list[tuple[Edge, int]], str, str]:
    """The whole chain an edge lies in, and the nodes at its two ends."""
    ahead, end = _follow(edge, edge.b, near, inner)
    if end == edge.a and edge.a in inner:  # a closed chain of its own
        return [(edge, 1), *ahead], edge.a, edge.a
    behind, start = _follow(edge, edge.a, near, inner)
    return [*((one, -way) for one, way in reversed(behind)), (edge, 1), *ahead], start, end


def _follow(edge: Edge, node: str, near: dict[str, list[Edge]], inner: set[str]) -> tuple[list[tuple[Edge, int]], str]:
    found: list[tuple[Edge, int]] = []
    last, first = edge, edge
    while node in inner:
        one, other = near[node]
        step = other if one is last else one
        if step is first:
            break
        found.append((step, 1 if step.a == node else -1))
        node = step.b if step.a == node else step.a
        last = step
    return found, node


def put_together(laws: Sequence[Law]) -> Law:
    """The law of edges of one kind in a row."""
    first = laws[0]
    if isinstance(first, Darcy):
        pipes = [law for law in laws if isinstance(law, Darcy)]
        return first._replace(length_m=sum(pipe.length_m for pipe in pipes), k=sum(pipe.k for pipe in pipes))
    return Quadratic(sum(law.r for law in laws if isinstance(law, Quadratic)))


def inner_nodes(chain: Chain) -> Iterable[tuple[str, Edge, int]]:
    """The nodes inside a chain in order, each with the part that leads to it and which way that is laid."""
    node = chain.edge.a
    for part, way in chain.parts[:-1]:
        node = part.b if way > 0 else part.a
        yield node, part, way


def unfold(chains: Iterable[Chain], heads: dict[str, float | None], flows: dict[str, float]) -> None:
    """Writes the heads inside chains and the flows of their parts beside those of the folded network."""
    for chain in chains:
        flow = flows.pop(chain.edge.id, 0.0)
        head = heads.get(chain.edge.a)
        for node, part, way in inner_nodes(chain):
            head = head - way * loss_m(part.law, way * flow) if head is not None else None
            heads[node] = head
        flows.update((part.id, way * flow) for part, way in chain.parts)
