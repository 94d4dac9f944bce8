"""What hangs on the ports of manifolds, walked outward, and the way water takes when a port's valve is closed."""

from collections.abc import Container, Iterable
from typing import NamedTuple

from plancheck.model import ManifoldOwn, Part, Plan, Port
from plancheck.network.graph import Graph, directed
from plancheck.network.search import reach
from plancheck.network.trace import Traced
from plancheck.network.waters import COLD, HOT, MIXED, RETURN

_WARM = (HOT, RETURN, MIXED)


class Step(NamedTuple):
    """One vertex of a way, by name, and the run that leads on from it, if one does."""

    name: str
    run: str | None


class PortWalks:
    """Walks from the ports of one plan, which go by `manifold/port`.

    points: where water is drawn or used, vertex -> name; fed: the vertices with water as the valves normally stand.
    """

    def __init__(self, plan: Plan, graph: Graph, traced: Traced, points: dict[int, str], fed: Container[int]) -> None:
        self.plan = plan
        self.graph = graph
        self.traced = traced
        self.points = points
        self.fed = fed
        barred = graph.hearts | graph.bypasses
        self._barred = barred
        self._cold = barred.union(vertex for vertex, water in traced.services.items() if water == COLD)
        self._warm = barred.union(vertex for vertex, water in traced.services.items() if water in _WARM)
        self._bodies: dict[str, frozenset[int]] = {}

    def hanging(self, port: str) -> tuple[int, ...]:
        """The points reached outward through a port, up to heaters and mixing valves, never from hot into cold or back.

        What lies behind a valve that is left closed counts only where it has water no other way.
        """
        start, closed = self.graph.number[port], self.graph.closed
        other_water = self._cold if self.traced.services.get(start) in _WARM else self._warm
        apart = self._body(port) | other_water
        walked = outward(self.graph, [start], apart, self.points)
        if closed.isdisjoint(walked):
            return self._points_of(walked)
        near = self._points_of(outward(self.graph, [start], apart | closed, self.points))
        return (*near, *(one for one in self._points_of(walked) if one not in self.fed and one not in near))

    def crossed(self, port: str, hanging: Iterable[int]) -> tuple[int, ...]:
        """The points that get water of a port because hot and cold are joined, and those behind the heaters it feeds."""
        if not self.traced.crossovers:
            return ()
        edges, touching = self.graph.edges, self.graph.touching
        across = self._reached([self.graph.number[port]], self._body(port).union(self.traced.returns, self._barred))
        hearts = {edges[number].b for point in hanging for number in touching[point]} & self.graph.hearts
        starts = [edges[number].b for heart in hearts for number in touching[heart] if edges[number].a == heart]
        return tuple(dict.fromkeys((*across, *self._reached(starts, self._cold))))

    def sharing(self, port: str) -> str | None:
        """The first port of the plan, ahead of this one, on which some of the same points hang."""
        mine = set(self.hanging(port))
        for part in self.plan.parts.values():
            for id_, own in ports_of(part).items():
                name = f"{part.id}/{id_}"
                if name == port:
                    return None
                if own.use in ("circuit", "onward") and mine & set(self.hanging(name)):
                    return name
        return None

    def way_round(self, valve: int, point: int) -> tuple[Step, ...]:
        """A shortest way from the source to the point with the valve closed; empty where none is left."""
        graph = self.graph
        ways = directed(graph, barred=(graph.closed | graph.bypasses | {valve}) - {point})
        came = reach(ways, [graph.source] if graph.source is not None else [])
        steps, vertex = [], point
        while came.get(vertex, -1) >= 0:
            a, b, run, _ = graph.edges[came[vertex]]
            vertex = a if b == vertex else b
            steps.append(Step(graph.names[vertex], run))
        return tuple(reversed(steps))

    def _reached(self, starts: list[int], apart: frozenset[int]) -> tuple[int, ...]:
        """The points reached from the starts, which are never passed; vertices in apart are not entered."""
        return self._points_of(outward(self.graph, starts, apart, self.points))

    def _points_of(self, walked: Iterable[int]) -> tuple[int, ...]:
        return tuple(vertex for vertex in walked if vertex in self.points)

    def _body(self, port: str) -> frozenset[int]:
        """The vertices inside the port's manifold: its row and its valves."""
        manifold = port.partition("/")[0]
        if manifold not in self._bodies:
            number = self.graph.number
            ends = (
                f"{manifold}/{id_}:{end}" for id_ in ports_of(self.plan.parts[manifold]) for end in ("row", "valve")
            )
            self._bodies[manifold] = frozenset(number[name] for name in ends if name in number)
        return self._bodies[manifold]


def outward(graph: Graph, starts: Iterable[int], apart: Container[int], stops: Container[int] = ()) -> list[int]:
    """The vertices water reaches from the starts, in order; those in apart are not entered, those in stops not passed."""
    edges, touching = graph.edges, graph.touching
    frontier = list(starts)
    seen = set(frontier)
    for vertex in frontier:  # grows while it is walked
        if vertex in stops:
            continue
        for number in touching[vertex]:
            a, b, _, one_way = edges[number]
            other = b if a == vertex else a
            if other not in seen and other not in apart and not (one_way and a != vertex):
                seen.add(other)
                frontier.append(other)
    return frontier


def ports_of(part: Part) -> dict[str, Port]:
    """The ports of a part that is a manifold and still there."""
    return dict(part.own.ports) if isinstance(part.own, ManifoldOwn) and part.work != "removed" else {}
