"""Questions put to a house, each solved once and then kept."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from plancheck.facts import Facts
from plancheck.flow.build import build_house
from plancheck.flow.house import House, Missing
from plancheck.hydraulics.plain import Edge, Law, Network, Regulator
from plancheck.hydraulics.solving import Solution, solve
from plancheck.measures.units import WATER_PA_PER_M
from plancheck.model import Ref

_MOVES_M3S = 1e-9  # a flow that counts as one


class Step(NamedTuple):
    """One edge of a route, as water runs: flow m3/s; loss_m: head lost on it, throttling by a regulator apart."""

    edge: str
    flow_m3s: float
    loss_m: float


class Reading(NamedTuple):
    """A pressure at a connection. pa: gauge; missing: a fact without which it is not known; why: no answer was found."""

    pa: float
    missing: Missing | None = None
    why: str = ""


class Flow:
    """The house of one plan and what was asked of it."""

    def __init__(self, facts: Facts, house: House | None = None) -> None:
        self.facts = facts
        self.house = house if house is not None else build_house(facts)
        self._kept: dict[object, Solution] = {}
        self._routes: dict[str, tuple[str, str]] | None = None
        self._edges = {edge.id: edge for edge in self.house.network.edges}

    def drawn(self, draws: Mapping[str, float], laws: Mapping[str, Law] | None = None) -> Solution:
        """Fixed draws (connection -> m3/s), every opening shut. laws: other laws for some edges."""
        house = self.house
        by_node: dict[str, float] = {}
        for name, draw in draws.items():
            by_node[house.node(name)] = by_node.get(house.node(name), 0.0) + draw
        key = ("draws", tuple(sorted(by_node.items())), tuple(sorted((laws or {}).items())))
        if key not in self._kept:
            network = self._with(laws)._replace(draws=by_node)
            self._kept[key] = solve(network, house.closed)
        return self._kept[key]

    def opened(self, names: Iterable[str], laws: Mapping[str, Law] | None = None) -> Solution:
        """Openings (edges) set open. laws: other laws for some edges."""
        names = tuple(sorted(set(names)))
        key = ("open", names, tuple(sorted((laws or {}).items())))
        if key not in self._kept:
            self._kept[key] = solve(self._with(laws), self.house.shut_but(*names))
        return self._kept[key]

    def _with(self, laws: Mapping[str, Law] | None) -> Network:
        network = self.house.network
        if not laws:
            return network
        edges = tuple(edge._replace(law=laws[edge.id]) if edge.id in laws else edge for edge in network.edges)
        return network._replace(edges=edges)

    def reading(self, solution: Solution, ref: Ref) -> Reading:
        """The pressure at a connection in a solution."""
        house = self.house
        missing = house.supply or self.unknown(solution)
        level = house.levels.of(ref)
        if missing is None and level is None:
            fixture = house.fixtures.get(ref.part)
            missing = fixture.missing if fixture is not None else None
            missing = missing or Missing(("parts", ref.part, "height"), "how high it stands")
        if missing is not None or level is None:
            return Reading(0.0, missing)
        if solution.why:
            return Reading(0.0, None, solution.why)
        head = solution.heads.get(house.node(ref))
        if head is None:
            return Reading(0.0, None, "no water gets there")
        return Reading((head - level) * WATER_PA_PER_M)

    def unknown(self, solution: Solution) -> Missing | None:
        """A fact that is missing of an edge through which water moves in a solution; None where all is known."""
        pieces = self.house.pieces
        for edge, flow in solution.flows.items():
            if abs(flow) > _MOVES_M3S and pieces[edge].missing is not None:
                return pieces[edge].missing
        if self.house.supply is not None:
            return self.house.supply
        return None

    def route(self, solution: Solution, ref: Ref | str) -> tuple[Step, ...]:
        """The way of most of the water from the source to a connection."""
        into: dict[str, tuple[float, Edge]] = {}
        for name, flow in solution.flows.items():
            if abs(flow) > _MOVES_M3S:
                edge = self._edges[name]
                end = edge.b if flow > 0 else edge.a
                if end not in into or abs(flow) > into[end][0]:
                    into[end] = abs(flow), edge
        found: list[Step] = []
        node = self.house.node(ref)
        seen = {node}
        while node in into:
            flow, edge = into[node]
            before = edge.a if edge.b == node else edge.b
            found.append(Step(edge.id, flow, self._loss(solution, edge, before, node)))
            if before in seen:
                break
            seen.add(before)
            node = before
        return tuple(reversed(found))

    def _loss(self, solution: Solution, edge: Edge, before: str, after: str) -> float:
        head, end = solution.heads.get(before), solution.heads.get(after)
        if head is None or end is None:
            return 0.0
        if isinstance(edge.law, Regulator):
            return max(0.0, min(head, edge.law.set_m) - end)
        return head - end

    def way(self, ref: Ref | str) -> tuple[str, ...]:
        """The edges from the source to a connection by the shortest way, openings shut."""
        if self._routes is None:
            self._routes = self._shortest()
        found = []
        node = self.house.node(ref)
        while node in self._routes:
            edge, node = self._routes[node]
            found.append(edge)
        return tuple(reversed(found))

    def _shortest(self) -> dict[str, tuple[str, str]]:
        """node -> (edge, node before) by which water first reaches it from the source."""
        near: dict[str, list[Edge]] = {}
        network = self.house.network
        for edge in network.edges:
            if not edge.shut and edge.id not in self.house.closed:
                near.setdefault(edge.a, []).append(edge)
                near.setdefault(edge.b, []).append(edge)
        found: dict[str, tuple[str, str]] = {}
        starts = [node for node in network.heads if not node.startswith("air ")]
        frontier, seen = list(starts), set(starts)
        for node in frontier:  # grows while it is walked
            for edge in near.get(node, ()):
                other = edge.b if edge.a == node else edge.a
                if other in seen or (edge.b == node and _arrow(edge.law)):
                    continue
                seen.add(other)
                found[other] = edge.id, node
                frontier.append(other)
        return found


def _arrow(law: Law) -> bool:
    from plancheck.hydraulics.plain import OneWay, Outlet

    return isinstance(law, OneWay | Outlet | Regulator)
