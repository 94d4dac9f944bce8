"""What goes dry when valves are closed, and the fewest valves that keep all water from a place or a fixture.

Everything here is told of the pipe as it is drawn: what wrongly joins hot and cold lets water pass, and so does a return
bypass. Names are those of the graph: valves `main-valve`, `cold-ring/A`, `lav/cold`; points `lav/cold`, `heater/cold`.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Iterable, Iterator, Mapping

from plancheck.facts import Facts
from plancheck.model import NONE, GaugePortOwn, ManifoldOwn, Part
from plancheck.network.cut import least_vertex_cut
from plancheck.network.search import reach
from plancheck.network.ways import Graph, directed
from plancheck.network.zones import Zones, find_zones
from plancheck.portwalks import as_drawn
from plancheck.record import NamedTuple
from plancheck.valves import described

FEWEST, ALONE, PIPE, REACHED = "fewest valves", "nothing else dry", "to cut the pipe", "valves in reach alone"


class Isolation(NamedTuple):
    """One way to isolate: what it is the way to; the valves, nearest first; the other points that go dry as well."""

    way: str
    valves: tuple[str, ...]
    others: tuple[str, ...]


class Closing:
    """The valves of one plan and what closing them does, each answer made when it is asked."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.plan = facts.plan
        self.graph: Graph = as_drawn(facts.network)
        self.ways = directed(self.graph, barred=self.graph.closed)
        self.zones: Zones = find_zones(self.graph)
        self.points: Mapping[str, int] = {name: vertex for vertex, name in facts.shutoffs.points().items()}
        self.sides: dict[str, int] = {}  # part -> how many points it has
        for name in self.points:
            part = name.partition("/")[0]
            self.sides[part] = self.sides.get(part, 0) + 1
        places = {name: number for number, name in enumerate(facts.plan.places)}
        in_plan = sorted(self.points, key=lambda name: places.get(self.part_of(name).place or "", len(places)))
        self.order = {name: number for number, name in enumerate(in_plan)}  # as one walks the places of the plan
        entered = self.zones.entered
        self.wet_points = tuple(name for name in in_plan if self.points[name] in entered)
        self._spots = sorted((entered[vertex], name) for name, vertex in self.points.items() if vertex in entered)

    def wet(self, closed: Iterable[str] = ()) -> tuple[str, ...]:
        """The points that water still comes to when these valves are closed as well."""
        graph = self.graph
        if graph.source is None:
            return ()
        shut = frozenset(graph.valves[name] for name in closed)
        found = reach(directed(graph, barred=graph.closed | shut), [graph.source])
        return tuple(name for name, vertex in self.points.items() if vertex in found and vertex not in shut)

    def is_wet(self, point: str) -> bool:
        """Whether a point has water as the valves stand."""
        return self.points[point] in self.zones.entered

    def dry(self, closed: Collection[str]) -> tuple[str, ...]:
        """The points that go dry by closing these valves."""
        if len(closed) == 1:
            return self._span(next(iter(closed)))
        left = frozenset(self.wet(closed))
        return tuple(name for name in self.wet_points if name not in left)

    def _span(self, valve: str) -> tuple[str, ...]:
        """The points behind one valve: a span of the zones' tree."""
        vertex = self.graph.valves[valve]
        if vertex not in self.zones.entered:
            return ()
        first = bisect_left(self._spots, (self.zones.entered[vertex], ""))
        end = bisect_left(self._spots, (self.zones.left[vertex], ""))
        return tuple(sorted((name for _, name in self._spots[first:end]), key=lambda name: self.order[name]))

    def before(self, point: str) -> tuple[str, ...]:
        """The valves all water to a point passes, nearest first; none where no water comes to it."""
        vertex = self.points[point]
        return self.zones.before.at(vertex) if vertex in self.zones.entered else ()

    def next_upstream(self, valve: str) -> str | None:
        """The valve that all water to this one passes last, for the day it will not close."""
        vertex = self.graph.valves[valve]
        if vertex not in self.zones.entered:
            return None
        chain = [name for name in self.zones.before.at(vertex) if name != valve]
        return chain[0] if chain else None

    def hanging(self, valve: str) -> tuple[str, ...]:
        """The points that hang on a port of a manifold; none of another valve."""
        shutoffs = self.facts.shutoffs
        if not shutoffs.is_port(valve) or valve not in self.graph.number:
            return ()
        return tuple(shutoffs.points()[point] for point in shutoffs.ports.hanging(valve))

    def in_place(self, place: str) -> tuple[str, ...]:
        """The points of a place."""
        return tuple(name for name in self.points if self.part_of(name).place == place)

    def of_part(self, part: str) -> tuple[str, ...]:
        """The points of a fixture or heater."""
        return tuple(name for name in self.points if name.partition("/")[0] == part)

    def part_of(self, name: str) -> Part:
        """The part of a point or valve."""
        return self.plan.parts[name.partition("/")[0]]

    def isolations(self, points: Collection[str]) -> tuple[Isolation, ...]:
        """The ways to keep all water from the points, the fewest valves first; none where no valves do.

        The mains are left out where other valves do. Where a valve of the first way is closed in, there is one of valves
        in reach; where others go dry, one that spares them; where it ends at stops, one to cut the pipe ahead of them.
        """
        ends = [self.points[point] for point in points if self.is_wet(point)]
        first = self._way(FEWEST, ends, points, self._usable()) or self._way(FEWEST, ends, points, self.graph.valves)
        if first is None or not ends:
            return ()
        found = {first.valves: first}
        for one in self._other_ways(first, ends, points):
            found.setdefault(one.valves, one)
        return tuple(found.values())

    def _other_ways(self, first: Isolation, ends: list[int], points: Collection[str]) -> Iterator[Isolation]:
        if any(self._rank(valve) == _CLOSED_IN for valve in first.valves):
            reached = {name for name in self.graph.valves if self._rank(name) != _CLOSED_IN}
            yield from _if_any(self._way(REACHED, ends, points, reached))
        if first.others:
            alone = self._way(ALONE, ends, points, self._sparing(points))
            if alone is not None and len(alone.others) < len(first.others):
                yield alone if not alone.others else alone._replace(way="fewer others dry")
        stubs = [self.graph.number[name] for name in points if name in self.graph.outlets]
        if any(valve in self.graph.outlets or valve.endswith(":second") for valve in first.valves) and stubs:
            usable = {name for name in self._usable() if name not in points}
            yield from _if_any(
                self._way(PIPE, stubs, points, usable) or self._way(PIPE, stubs, points, self.graph.valves)
            )

    def _usable(self) -> set[str]:
        """The valves one would think of: not the mains, nor those that are closed as they stand."""
        mains = self.facts.shutoffs.mains
        return {name for name, at in self.graph.valves.items() if name not in mains and at not in self.graph.closed}

    def _sparing(self, points: Collection[str]) -> set[str]:
        """The valves that by themselves dry none but these points."""
        return {name for name in self._usable() if all(point in points for point in self._span(name))}

    def _way(self, way: str, ends: list[int], points: Collection[str], usable: Collection[str]) -> Isolation | None:
        graph = self.graph
        if graph.source is None:
            return None
        far = _distances(self.ways, ends)
        named = {vertex: name for name, vertex in graph.valves.items() if name in usable and vertex in far}
        cut = least_vertex_cut(self.ways, graph.source, ends, self._costs(named, far))
        if cut is None:
            return None
        valves = tuple(named[vertex] for vertex in sorted(cut, key=lambda vertex: (far[vertex], named[vertex])))
        others = tuple(name for name in self.dry(valves) if name not in points)
        return Isolation(way, valves, others)

    def _costs(self, named: Mapping[int, str], far: Mapping[int, int]) -> dict[int, int]:
        """What closing each valve counts: one above all; then its reach, closed in and not said; then how far it is."""
        count = len(named) + 1
        unsaid = count * (max(far.values(), default=0) + 1)
        closed_in = unsaid * count
        by_rank = {_IN_REACH: 0, _UNSAID: unsaid, _CLOSED_IN: closed_in}
        return {at: closed_in * count + by_rank[self._rank(name)] + far[at] + 1 for at, name in named.items()}

    def _rank(self, valve: str) -> int:
        said = reach_of(self.facts, valve)
        if said is None and valve in self.graph.outlets:
            return _IN_REACH  # a stop stands at its fixture
        if said == NONE:
            return _CLOSED_IN
        return _UNSAID if said is None else _IN_REACH


_IN_REACH, _UNSAID, _CLOSED_IN = 0, 1, 2


def reach_of(facts: Facts, valve: str) -> str | None:
    """How one gets at a valve (open, panel, none), None for not said; the street's curb stop is nobody's to reach."""
    part = facts.plan.parts[valve.partition("/")[0]]
    if isinstance(part.own, GaugePortOwn):
        return part.reach.kind if part.reach is not None and not isinstance(part.reach, str) else None
    found = described(facts.plan, valve)
    return NONE if found.style == "curb stop" else found.reach


def is_for_testing(facts: Facts, valve: str) -> bool:
    """Whether it is the valve of a test or spare port: it stands behind everything."""
    own = facts.plan.parts[valve.partition("/")[0]].own
    if isinstance(own, GaugePortOwn):
        return True
    port = own.ports.get(valve.partition("/")[2]) if isinstance(own, ManifoldOwn) else None
    return port is not None and port.use in ("test", "spare")


def _distances(ways: Iterable[Iterable[tuple[int, int]]], ends: Iterable[int]) -> dict[int, int]:
    """Vertex -> how many steps it is ahead of the nearest of the ends; those that lead to none are left out."""
    around = list(ways)
    back: list[list[int]] = [[] for _ in around]
    for vertex, nexts in enumerate(around):
        for other, _ in nexts:
            back[other].append(vertex)
    found = dict.fromkeys(ends, 0)
    frontier = list(found)
    for vertex in frontier:  # grows while it is walked
        for other in back[vertex]:
            if other not in found:
                found[other] = found[vertex] + 1
                frontier.append(other)
    return found


def _if_any(found: Isolation | None) -> Iterator[Isolation]:
    if found is not None:
        yield found
