"""Questions put to a house, each solved once and then kept."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TypeVar

from plancheck.facts import Facts
from plancheck.flow.build import build_house
from plancheck.flow.core import Core, core_of
from plancheck.flow.estimates import estimates_on, runs_among
from plancheck.flow.fixed import Folded, fold_ready, solve_fixed
from plancheck.flow.house import AIR, House, Missing
from plancheck.flow.ways import Ways
from plancheck.hydraulics.plain import Edge, Law, Network, Regulator
from plancheck.hydraulics.solving import Solution
from plancheck.measures.units import WATER_PA_PER_M
from plancheck.model import Ref, Run
from plancheck.record import NamedTuple

T = TypeVar("T")

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


class Asked:
    """The house of one plan and what was asked of it."""

    def __init__(self, facts: Facts, house: House | None = None) -> None:
        self.facts = facts
        self.house = house if house is not None else build_house(facts)
        self._kept: dict[object, Solution] = {}
        self._ready: dict[object, Folded] = {}
        self._core: Core | None = None
        self._starts = [(node, head) for node, head in self.house.network.heads.items() if not node.startswith(AIR)]
        self._ways: Ways | None = None
        self._into: dict[int, tuple[Solution, dict[str, tuple[float, Edge]]]] = {}
        self._doubtful = [name for name, piece in self.house.pieces.items() if piece.missing is not None]
        self.edges = {edge.id: edge for edge in self.house.network.edges}

    def drawn(self, draws: Mapping[str, float], laws: Mapping[str, Law] | None = None) -> Solution:
        """Fixed draws (connection -> m3/s), every opening shut. laws: other laws for some edges."""
        by_node: dict[str, float] = {}
        for name, draw in draws.items():
            node = self.house.node(name)
            by_node[node] = by_node.get(node, 0.0) + draw
        key = ("draws", tuple(sorted(by_node.items())), tuple(sorted((laws or {}).items())))
        if key not in self._kept:
            start, head = self._starts[0] if self._starts else ("", 0.0)
            self._kept[key] = solve_fixed(self.core, start, head, by_node, laws or {})
        return self._kept[key]

    def opened(
        self, names: Iterable[str], laws: Mapping[str, Law] | None = None, near: Solution | None = None
    ) -> Solution:
        """Openings (edges) set open. laws: other laws for some edges; near: a neighbouring scenario to begin with."""
        names = tuple(sorted(set(names)))
        changed = laws or {}
        key = ("open", names, tuple(sorted(changed.items())))
        if key in self._kept:
            return self._kept[key]
        apart = tuple(name for name in names if name in changed)  # of the openings themselves: they may be turned again
        rest = tuple(sorted((name, law) for name, law in changed.items() if name not in apart))
        if (names, rest) not in self._ready:
            self._ready[names, rest] = self._folded(names, dict(rest))  # without theirs, or the next would begin with them
        start = near.flows if near is not None else None
        solution = self._ready[names, rest].solved(start, {name: changed[name] for name in apart})
        self._kept[key] = solution
        return solution

    def _folded(self, names: Sequence[str], laws: Mapping[str, Law]) -> Folded:
        """The part of the house that the openings need, made ready."""
        opened = [self.edges[name] for name in names]
        ends = dict.fromkeys(node for edge in opened for node in (edge.a, edge.b))
        edges = [*self.core.toward(ends), *opened]
        if laws:
            edges = [edge._replace(law=laws[edge.id]) if edge.id in laws else edge for edge in edges]
        heads = self.house.network.heads
        used = {node: heads[node] for edge in edges for node in (edge.a, edge.b) if node in heads}
        return fold_ready(Network(used or dict(self._starts), tuple(edges)))

    @property
    def core(self) -> Core:
        """The house told apart in blocks, openings shut."""
        if self._core is None:
            open_ = [edge for edge in self.house.network.edges if not edge.shut and edge.id not in self.house.closed]
            self._core = core_of(open_, [node for node, _ in self._starts])
        return self._core

    def standing(self, ref: Ref, laws: Mapping[str, Law] | None = None) -> Reading:
        """The pressure at a connection with no water running: the source's, behind a regulator at most what it holds.

        laws: other laws for some edges.
        """
        level, missing = self._level(ref)
        if level is None or missing is not None:
            return Reading(0.0, missing)
        head, node = max((head for _, head in self._starts), default=0.0), self.house.node(ref)
        way = self.way(ref)
        for name in way:
            piece = self.house.pieces[name]
            if piece.kind != "regulator":
                continue
            if piece.missing is not None:
                return Reading(0.0, piece.missing)
            law = laws.get(name, self.edges[name].law) if laws else self.edges[name].law
            if isinstance(law, Regulator):
                head = min(head, law.set_m)
        if not way and node not in self.house.network.heads:
            return Reading(0.0, None, "no water gets there")
        return Reading((head - level) * WATER_PA_PER_M)

    def reading(self, solution: Solution, ref: Ref) -> Reading:
        """The pressure at a connection in a solution."""
        level, missing = self._level(ref)
        missing = missing or self.unknown(solution)
        if missing is not None or level is None:
            return Reading(0.0, missing)
        if solution.why:
            return Reading(0.0, None, solution.why)
        head = solution.heads.get(self.house.node(ref))
        if head is None:
            return Reading(0.0, None, "no water gets there")
        return Reading((head - level) * WATER_PA_PER_M)

    def _level(self, ref: Ref) -> tuple[float | None, Missing | None]:
        """The height of a connection, or what is missing for its pressure."""
        house = self.house
        level = house.levels.of(ref)
        if house.supply is not None:
            return level, house.supply
        if level is None:
            fixture = house.fixtures.get(ref.part)
            missing = fixture.missing if fixture is not None else None
            return None, missing or Missing(("parts", ref.part, "at"), "where it stands, above all how high")
        return level, None

    def unknown(self, solution: Solution) -> Missing | None:
        """A fact that is missing of an edge through which water moves in a solution; None where all is known."""
        for edge in self._doubtful:
            if abs(solution.flows.get(edge, 0.0)) > _MOVES_M3S:
                return self.house.pieces[edge].missing
        return self.house.supply

    def route(self, solution: Solution, ref: Ref | str) -> tuple[Step, ...]:
        """The way of most of the water from the source to a connection, with what each edge takes."""
        found: list[Step] = []
        node = self.house.node(ref)
        for name in reversed(self.path(solution, ref)):
            edge = self.edges[name]
            before = edge.a if edge.b == node else edge.b
            found.append(Step(name, abs(solution.flows[name]), self._loss(solution, edge, before, node)))
            node = before
        return tuple(reversed(found))

    def path(self, solution: Solution, ref: Ref | str) -> tuple[str, ...]:
        """The edges by which most of the water comes from the source to a connection."""
        into = self._inflows(solution)
        found: list[str] = []
        node = self.house.node(ref)
        seen = {node}
        while node in into:
            edge = into[node][1]
            found.append(edge.id)
            node = edge.a if edge.b == node else edge.b
            if node in seen:
                break
            seen.add(node)
        found.reverse()
        return tuple(found)

    def _inflows(self, solution: Solution) -> dict[str, tuple[float, Edge]]:
        """By node the edge that brings most of its water, and how much; found once for each solution."""
        kept = self._into.get(id(solution))
        if kept is not None and kept[0] is solution:
            return kept[1]
        into: dict[str, tuple[float, Edge]] = {}
        edges = self.edges
        for name, flow in solution.flows.items():
            size = abs(flow)
            if size > _MOVES_M3S:
                edge = edges[name]
                end = edge.b if flow > 0 else edge.a
                if end not in into or size > into[end][0]:
                    into[end] = size, edge
        self._into[id(solution)] = solution, into
        return into

    def _loss(self, solution: Solution, edge: Edge, before: str, after: str) -> float:
        head, end = solution.heads.get(before), solution.heads.get(after)
        if head is None or end is None:
            return 0.0
        if isinstance(edge.law, Regulator):
            return max(0.0, min(head, edge.law.set_m) - end)
        return head - end

    def runs_of(self, edges: Iterable[str]) -> list[Run]:
        """The runs among edges, in order."""
        return runs_among(self.facts.plan, self.house, edges)

    def estimates_to(self, *connections: str) -> str:
        """The estimates that a figure at these connections rests on."""
        edges = dict.fromkeys(edge for name in connections for edge in self.way(name))
        return estimates_on(self.facts, self.house, edges, connections)

    def estimates(self, edges: Iterable[str], *connections: str) -> str:
        """The writer's words of the estimates that a figure at connections behind these edges rests on; empty without any."""
        return estimates_on(self.facts, self.house, edges, connections)

    def all_existing(self, edges: Iterable[str]) -> bool:
        """Whether every run among edges is existing work."""
        runs = self.runs_of(edges)
        return bool(runs) and all(run.work == "existing" for run in runs)

    @property
    def ways(self) -> Ways:
        """The shortest ways of water from the source."""
        if self._ways is None:
            self._ways = Ways(self.house.network.edges, self.house.closed, [node for node, _ in self._starts])
        return self._ways

    def way(self, ref: Ref | str) -> tuple[str, ...]:
        """The edges from the source to a connection by the shortest way, openings shut."""
        return self.ways.to(self.house.node(ref))

    def is_fed(self, connection: str) -> bool:
        """Whether water of the source comes to a connection."""
        return self.house.node(connection) in self.ways.routes

    def gathered(self, at_nodes: Mapping[str, T], join: Callable[[T, T], T]) -> dict[str, T]:
        """For each edge what lies behind it on the shortest ways, joined: one walk for all. at_nodes: by node."""
        return self.ways.gathered(at_nodes, join)
