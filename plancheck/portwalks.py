"""What hangs on the ports of manifolds, walked outward, and the way water takes when a port's valve is closed."""

from collections.abc import Container, Iterable, Mapping

from plancheck.model import ManifoldOwn, Part, Plan, Port
from plancheck.network.graph import Graph, directed
from plancheck.network.search import reach
from plancheck.network.trace import Traced
from plancheck.network.waters import COLD, HOT, MIXED, RETURN
from plancheck.network.ways import ways_of

_WARM = (HOT, RETURN, MIXED)
_COLD = (COLD,)


Step = tuple[str, str | None]  # one vertex of a way, by name, and the run that leads on from it, if one does


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
        self._bodies: dict[str, set[int]] = {}

    def hanging(self, port: str) -> tuple[int, ...]:
        """The points reached outward through a port, up to heaters and mixing valves, never from hot into cold or back.

        What lies behind a valve that is left closed counts only where it has water no other way.
        """
        graph, points, closed = self.graph, self.points, self.graph.closed
        start = graph.number[port]
        apart = graph.hearts.union(graph.bypasses, self._body(port))
        other_water = _COLD if self.traced.services.get(start) in _WARM else _WARM
        walked = outward(graph, [start], apart, points, self.traced.services, other_water)
        if closed.isdisjoint(walked):
            return tuple([vertex for vertex in walked if vertex in points])
        near = outward(graph, [start], apart | closed, points, self.traced.services, other_water)
        met = set(near)
        behind = [vertex for vertex in walked if vertex not in self.fed and vertex not in met]
        return tuple([vertex for vertex in (*near, *behind) if vertex in points])

    def crossed(self, port: str, hanging: Iterable[int]) -> tuple[int, ...]:
        """The points that get water of a port because hot and cold are joined, and those behind the heaters it feeds.

        What joins them is walked as it is drawn.
        """
        if not self.traced.crossovers:
            return ()
        graph, barred = as_drawn(self.graph), self.graph.hearts | self.graph.bypasses
        across = self._reached(graph, [graph.number[port]], barred.union(self.traced.returns, self._body(port)))
        hearts = {other for point in hanging for other, _ in graph.ways[point]} & graph.hearts
        starts = [other for heart in hearts for other, _ in graph.ways[heart]]
        cold = barred.union(vertex for vertex, water in self.traced.services.items() if water == COLD)
        return tuple(dict.fromkeys((*across, *self._reached(graph, starts, cold))))

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
            steps.append((graph.names[vertex], run))
        return tuple(reversed(steps))

    def _reached(self, graph: Graph, starts: list[int], apart: Container[int]) -> tuple[int, ...]:
        """The points reached from the starts, which are never passed; vertices in apart are not entered."""
        return tuple([vertex for vertex in outward(graph, starts, apart, self.points) if vertex in self.points])

    def _body(self, port: str) -> set[int]:
        """The vertices inside the port's manifold: its row and its valves."""
        manifold = port.partition("/")[0]
        if manifold not in self._bodies:
            ids, number = ports_of(self.plan.parts[manifold]), self.graph.number
            ends = [f"{manifold}/{id_}:{end}" for id_ in ids for end in ("row", "valve")]
            self._bodies[manifold] = {number[name] for name in ends if name in number}
        return self._bodies[manifold]


def as_drawn(graph: Graph) -> Graph:
    """The graph with every way water takes as the pipe is drawn: what wrongly joins hot and cold is passed."""
    return graph._replace(ways=ways_of(graph.edges, len(graph.names))) if graph.joins else graph


def outward(
    graph: Graph,
    starts: Iterable[int],
    apart: Container[int],
    stops: Container[int] = (),
    services: Mapping[int, str] | None = None,
    waters: Container[str | None] = (),
) -> list[int]:
    """The vertices water reaches from the starts, in order; those in apart are not entered, those in stops not passed.

    Nor are those entered, hearts apart, where one of the waters stands; services: vertex -> water.
    """
    ways, hearts = graph.ways, graph.hearts
    service = services.get if services is not None else _unknown
    frontier = list(starts)
    seen = set(frontier)
    for vertex in frontier:  # grows while it is walked
        if vertex in stops:
            continue
        for other, _ in ways[vertex]:
            if other in seen or other in apart or (service(other) in waters and other not in hearts):
                continue
            seen.add(other)
            frontier.append(other)
    return frontier


def _unknown(_: int) -> None:
    return None


def ports_of(part: Part) -> dict[str, Port]:
    """The ports of a part that is a manifold and still there."""
    return dict(part.own.ports) if isinstance(part.own, ManifoldOwn) and part.work != "removed" else {}
