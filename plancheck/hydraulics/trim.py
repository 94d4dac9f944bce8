"""Branches in which nothing moves are cut off before a single scenario is solved: they only carry their head."""

from plancheck.hydraulics.plain import ONE_WAY, Edge, Network, Regulator
from plancheck.record import NamedTuple


class Trimmed(NamedTuple):
    """What moves, and what was cut off.

    network: the rest, its shut edges gone; hung: cut-off nodes with the edge and the node they hang on, in the order in
    which their heads follow; dry: nodes that no open edge leads water to.
    """

    network: Network
    hung: tuple[tuple[str, Edge, str], ...]
    dry: tuple[str, ...]


def trim(network: Network, shut: frozenset[str] = frozenset()) -> Trimmed:
    """The network without shut edges, without nodes nothing feeds, and without branches that lead to no draw."""
    near: dict[str, list[Edge]] = {}
    for edge in network.edges:
        near.setdefault(edge.a, [])
        near.setdefault(edge.b, [])
        if not edge.shut and edge.id not in shut:
            near[edge.a].append(edge)
            near[edge.b].append(edge)
    fed = _fed(network, near)
    dry = tuple(node for node in near if node not in fed)
    for node in fed:
        near[node] = [edge for edge in near[node] if edge.a in fed and edge.b in fed]
    hung = _cut(network, near, fed)
    gone = {edge.id for _, edge, _ in hung}
    kept = tuple(
        edge
        for edge in network.edges
        if not edge.shut and edge.id not in shut and edge.id not in gone and edge.a in fed and edge.b in fed
    )
    used = {node for edge in kept for node in (edge.a, edge.b)}
    heads = {node: head for node, head in network.heads.items() if node in used}
    draws = {node: draw for node, draw in network.draws.items() if draw}
    return Trimmed(Network(heads, kept, draws), hung, dry)


def _fed(network: Network, near: dict[str, list[Edge]]) -> set[str]:
    """Nodes that water can come to: from a to b along every open edge, from b to a along those that let it."""
    found = {node for node in network.heads if node in near}
    stack = list(found)
    while stack:
        here = stack.pop()
        for edge in near[here]:
            other = edge.b
            if other == here:
                if isinstance(edge.law, ONE_WAY):
                    continue
                other = edge.a
            if other not in found:
                found.add(other)
                stack.append(other)
    return found


def _cut(network: Network, near: dict[str, list[Edge]], fed: set[str]) -> tuple[tuple[str, Edge, str], ...]:
    """Unknown nodes without a draw at the end of a branch, one after the other from the tips inwards."""
    degree = {node: len(near[node]) for node in fed}
    tips = [node for node, count in degree.items() if count == 1 and _idle(network, node)]
    gone: set[str] = set()
    found: list[tuple[str, Edge, str]] = []
    while tips:
        tip = tips.pop()
        edge = next((one for one in near[tip] if one.id not in gone), None)
        if edge is None:
            continue
        gone.add(edge.id)
        other = edge.b if edge.a == tip else edge.a
        found.append((tip, edge, other))
        degree[other] -= 1
        if degree[other] == 1 and _idle(network, other):
            tips.append(other)
    found.reverse()
    return tuple(found)


def _idle(network: Network, node: str) -> bool:
    return node not in network.heads and not network.draws.get(node)


def hung_head(node: str, edge: Edge, head: float) -> float:
    """The head of a cut-off node: that of what it hangs on, behind a regulator at most what that holds."""
    if isinstance(edge.law, Regulator) and edge.b == node:
        return min(head, edge.law.set_m)
    return head
