"""The part of a house that a question needs: from the source to some nodes, with the rings on the way whole."""

from collections.abc import Iterable, Sequence

from plancheck.flow.cycle import Ring, ring_of
from plancheck.hydraulics.plain import Edge
from plancheck.network.search import bridges, reach
from plancheck.record import NamedTuple


class Core(NamedTuple):
    """The house cut at every edge whose loss would part it.

    block: node -> its block (a ring, or a single node); edges: block -> the edges inside it; above: block -> the edge
    towards the source and the block it leads to, None for the source's own; rings: kept.
    """

    block: dict[str, int]
    edges: dict[int, list[Edge]]
    above: dict[int, tuple[Edge, int] | None]
    rings: dict[tuple[int, str], "Ring | None"]

    def ring(self, block: int, entry: str) -> "Ring | None":
        """A block as a single ring seen from where water enters; None where it is none. Found once."""
        key = block, entry
        if key not in self.rings:
            self.rings[key] = ring_of(self.edges[block], entry)
        return self.rings[key]

    def toward(self, nodes: Iterable[str]) -> list[Edge]:
        """The edges that water from the source may take to the nodes, each once."""
        found: list[Edge] = []
        seen: set[int] = set()
        for node in nodes:
            block = self.block.get(node, -1)
            while block >= 0 and block not in seen:
                seen.add(block)
                found.extend(self.edges.get(block, ()))
                step = self.above[block]
                if step is None:
                    break
                found.append(step[0])
                block = step[1]
        return found


def core_of(edges: Sequence[Edge], starts: Sequence[str]) -> Core:
    """The blocks of the open edges as seen from the source. Time grows with the number of edges."""
    names = {name: place for place, name in enumerate({node: None for edge in edges for node in (edge.a, edge.b)})}
    ways: list[list[tuple[int, int]]] = [[] for _ in names]
    for number, edge in enumerate(edges):
        ways[names[edge.a]].append((names[edge.b], number))
        ways[names[edge.b]].append((names[edge.a], number))
    parting = bridges(ways, len(names), lambda vertex: True)
    inner = [[way for way in around if way[1] not in parting] for around in ways]
    roots = [names[start] for start in starts if start in names]
    block = [-1] * len(names)
    above: dict[int, tuple[Edge, int] | None] = {}
    for vertex, edge_number in reach(ways, roots).items():
        if block[vertex] >= 0:
            continue
        number = len(above)
        for member in reach(inner, [vertex]):
            block[member] = number
        if edge_number < 0:
            above[number] = None
        else:
            edge = edges[edge_number]
            far = names[edge.b] if names[edge.a] == vertex else names[edge.a]
            above[number] = edge, block[far]
    inside: dict[int, list[Edge]] = {}
    for number, edge in enumerate(edges):
        if number not in parting and block[names[edge.a]] >= 0:
            inside.setdefault(block[names[edge.a]], []).append(edge)
    return Core({name: block[place] for name, place in names.items()}, inside, above, {})
