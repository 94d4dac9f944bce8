"""The shortest ways of water from the source, openings shut: one walk for the whole house."""

from collections.abc import Callable, Collection, Iterable, Mapping
from typing import TypeVar

from plancheck.hydraulics.plain import Edge, Law, OneWay, Outlet, Regulator

T = TypeVar("T")


class Ways:
    """routes: node -> (edge, node before) by which water first reaches it, each node after the one it hangs on."""

    def __init__(self, edges: Iterable[Edge], closed: Collection[str], starts: Iterable[str]) -> None:
        near: dict[str, list[Edge]] = {}
        for edge in edges:
            if not edge.shut and edge.id not in closed:
                near.setdefault(edge.a, []).append(edge)
                near.setdefault(edge.b, []).append(edge)
        self.routes: dict[str, tuple[str, str]] = {}
        self._kept: dict[str, tuple[str, ...]] = {}
        frontier = list(starts)
        seen = set(frontier)
        for node in frontier:  # grows while it is walked
            for edge in near.get(node, ()):
                other = edge.b if edge.a == node else edge.a
                if other in seen or (edge.b == node and _arrow(edge.law)):
                    continue
                seen.add(other)
                self.routes[other] = edge.id, node
                frontier.append(other)

    def to(self, node: str) -> tuple[str, ...]:
        """The edges from the source to a node."""
        kept = self._kept.get(node)
        if kept is None:
            found = []
            last = node
            while last in self.routes:
                edge, last = self.routes[last]
                found.append(edge)
            kept = self._kept[node] = tuple(reversed(found))
        return kept

    def gathered(self, at_nodes: Mapping[str, T], join: Callable[[T, T], T]) -> dict[str, T]:
        """For each edge what lies behind it, joined. at_nodes: by node."""
        here = dict(at_nodes)
        found: dict[str, T] = {}
        for node, (edge, before) in reversed(self.routes.items()):
            if node in here:
                own = found[edge] = here.pop(node)
                here[before] = join(here[before], own) if before in here else own
        return found


def _arrow(law: Law) -> bool:
    return isinstance(law, OneWay | Outlet | Regulator)
