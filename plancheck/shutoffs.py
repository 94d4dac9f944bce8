"""What closing a valve does, beyond the bare zones: the mains of a house, what hangs on a port, and the ways round.

Names are those of the graph: a valve part by its id, a port's valve `manifold/port`, a stop `part/side`. Valves that are
left closed count as open for what gets its water through them alone; a listed return bypass lets none through.
"""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from plancheck.kinds import KINDS
from plancheck.model import NONE, NOT_KNOWN, HeaterOwn, ManifoldOwn, MixingOwn, Part, Path, Plan, RestOwn, ValveOwn
from plancheck.network.graph import Graph
from plancheck.network.trace import Traced
from plancheck.network.waters import COLD
from plancheck.network.zones import Zones, find_zones
from plancheck.portwalks import PortWalks, outward, ports_of
from plancheck.valves import Described, described, stop_missing


class Chain(NamedTuple):
    """The valves on the only way to a point, nearest first, and the zones they were read from."""

    valves: tuple[str, ...]
    zones: Zones


class Ahead(NamedTuple):
    """What is drawn off ahead of a main: bare without a valve on its branch, valved with one."""

    bare: tuple[str, ...]
    valved: tuple[str, ...]


class Shutoffs:
    """The valves of one plan and what they shut, each answer made when it is asked."""

    def __init__(self, plan: Plan, graph: Graph, traced: Traced, zones: Zones) -> None:
        self.plan = plan
        self.graph = graph
        self.traced = traced
        self.zones = zones
        if graph.bypasses:
            self.zones = find_zones(graph._replace(closed=graph.closed | graph.bypasses))
        self.mains = tuple(self._find_mains())
        self._opened: Zones | None = None
        self._points: dict[int, str] | None = None
        self._ports: PortWalks | None = None
        self._chains: dict[str, Chain | None] = {}
        self._beside: dict[str, tuple[int, ...]] = {}

    def zones_at(self, vertex: int) -> Zones | None:
        """The zones that tell about a vertex; with closed valves opened where it has water only then; None where never."""
        if vertex in self.zones.entered:
            return self.zones
        if not self.graph.closed:
            return None
        if self._opened is None:
            self._opened = find_zones(self.graph._replace(closed=self.graph.bypasses))
        return self._opened if vertex in self._opened.entered else None

    def chain(self, vertex: int) -> Chain | None:
        """The valves all water to the vertex passes, nearest first; None where no water comes to it."""
        zones = self.zones_at(vertex)
        if zones is None:
            return None
        over = [
            (zones.entered[v], name) for name, v in self.graph.valves.items() if v != vertex and zones.shuts(v, vertex)
        ]
        return Chain(tuple(name for _, name in sorted(over, reverse=True)), zones)

    def chain_of_side(self, side: str) -> Chain | None:
        """The same for an outlet side (`part/side`)."""
        if side not in self._chains:
            zones = self.zones_at(self.graph.outlets[side])
            self._chains[side] = Chain(zones.before[side], zones) if zones is not None else None
        return self._chains[side]

    def _find_mains(self) -> Iterator[str]:
        """The valve parts that shut the house, from the source on, curb stops last; what runs outdoors may be ahead."""
        zones, graph = self.zones, self.graph
        taps = [tap for name, tap in graph.outlets.items() if tap in zones.entered and not self._outdoors(name)]
        taps = taps or [tap for tap in graph.outlets.values() if tap in zones.entered]
        found = []
        for part in self.plan.parts.values():
            inside = graph.valves.get(part.id)
            if inside is None or inside not in zones.entered:
                continue
            if not isinstance(part.own, ValveOwn) or part.own.normally == "closed":
                continue
            if all(zones.shuts(inside, tap) for tap in taps):
                found.append((part.own.style == "curb stop", zones.entered[inside], part.id))
        found.sort()
        for _, _, name in found if taps else found[:1]:
            yield name

    def _outdoors(self, side: str) -> bool:
        part = self.plan.parts[side.partition("/")[0]]
        place = self.plan.places.get(part.place) if part.place is not None else None
        return part.is_ == "hose outlet" or (place is not None and place.is_ in ("outdoors", "ground"))

    def ahead(self, main: str) -> Ahead:
        """The outlets and stub-outs with water that the main does not shut."""
        inside, zones = self.graph.number[main], self.zones
        bare: list[str] = []
        valved: list[str] = []
        for point, name in self.points().items():
            if point in zones.entered and not zones.shuts(inside, point):
                (valved if self._has_branch_valve(point) else bare).append(name)
        return Ahead(tuple(bare), tuple(valved))

    def _has_branch_valve(self, point: int) -> bool:
        """Whether a valve part or a port's valve stands before it; a stop at the far end leaves the pipe wet."""
        chain = self.chain(point)
        for name in chain.valves if chain is not None else ():
            part = self.plan.parts[name.partition("/")[0]]
            own = part.own
            if isinstance(own, ManifoldOwn) or (isinstance(own, ValveOwn) and own.style != "curb stop"):
                return True
        return False

    def points(self) -> dict[int, str]:
        """Where water is drawn or used, vertex -> name: outlet sides, heaters, mixing valves, stub-outs but sprinklers'."""
        if self._points is None:
            self._points = {tap: name for name, tap in self.graph.outlets.items()}
            for part in self.plan.parts.values():
                for connection in _draws(part):
                    number = self.graph.number.get(f"{part.id}/{connection}")
                    if number is not None:
                        self._points[number] = f"{part.id}/{connection}"
        return self._points

    @property
    def ports(self) -> PortWalks:
        """Walks from the ports of the plan's manifolds."""
        if self._ports is None:
            self._ports = PortWalks(self.plan, self.graph, self.traced, self.points(), self.zones.entered)
        return self._ports

    def stays_wet(self, vertex: int, point: int) -> bool:
        """Whether the point has water though nothing passes the vertex."""
        zones = self.zones_at(point)
        return zones is not None and not zones.shuts(vertex, point)

    def without_valve(self, port: str, points: Iterable[int]) -> tuple[str, ...]:
        """The names of those points before which, behind the port, no valve stands."""
        end, bare = self.graph.number[port], []
        for point in points:
            chain = self.chain(point)
            if chain is not None and all(chain.zones.shuts(self.graph.valves[one], end) for one in chain.valves):
                bare.append(self.points()[point])
        return tuple(bare)

    def before_heater(self, vertex: int) -> bool:
        """Whether a heater gets no cold water when nothing passes the vertex."""
        inlets = (self.graph.number[f"{part.id}/cold"] for part in self.plan.parts.values() if _is_heater(part))
        return any(self.zones.shuts(vertex, inlet) for inlet in inlets)

    def heater_alone(self, heater: str, vertex: int, zones: Zones) -> bool:
        """Whether nothing but the heater and what it feeds goes dry when nothing passes the vertex."""
        if heater not in self._beside:
            self._beside[heater] = self._not_fed_by(heater)
        return not any(zones.shuts(vertex, other) for other in self._beside[heater])

    def _not_fed_by(self, heater: str) -> tuple[int, ...]:
        """The outlets, and the inlets of other heaters, that get no hot water of this heater."""
        graph, services = self.graph, self.traced.services
        cold = frozenset(vertex for vertex, water in services.items() if water == COLD) - graph.hearts
        fed = frozenset(outward(graph, [graph.number[f"{heater}/hot"]], cold))
        inlets = [graph.number[f"{p.id}/cold"] for p in self.plan.parts.values() if _is_heater(p) and p.id != heater]
        return tuple(point for point in (*graph.outlets.values(), *inlets) if point not in fed)

    def unsaid_ports(self, vertex: int) -> Iterator[tuple[Path, int]]:
        """The ports all water to the vertex passes whose valve the plan does not tell: path of the key, vertex."""
        for name, said, end in self._valveless_ports(vertex):
            if said != NONE:
                manifold, _, port = name.partition("/")
                yield ("parts", manifold, "ports", port, "valve"), end

    def bare_ports(self, vertex: int) -> Iterator[tuple[str, int]]:
        """The ports all water to the vertex passes that have no valve: name, vertex."""
        return ((name, end) for name, said, end in self._valveless_ports(vertex) if said == NONE)

    def _valveless_ports(self, vertex: int) -> Iterator[tuple[str, str | None, int]]:
        zones = self.zones_at(vertex)
        if zones is None:
            return
        for part in self.plan.parts.values():
            for port in ports_of(part).values():
                end = self.graph.number.get(f"{part.id}/{port.id}")
                if port.valve not in (None, NONE, NOT_KNOWN) or port.use in ("feed", "section") or end is None:
                    continue
                if zones.shuts(end, vertex):
                    yield f"{part.id}/{port.id}", port.valve, end

    def described(self, valve: str) -> Described:
        """What the plan says of a valve: style, reach, label, and where."""
        return described(self.plan, valve)

    def stop_missing(self, side: str) -> Path | None:
        """The key that would tell whether an outlet side has a stop; None where the plan says."""
        return stop_missing(self.plan, side)

    def is_port(self, name: str) -> bool:
        """Whether the name is that of a manifold's port."""
        part, _, end = name.partition("/")
        return end != "" and end in ports_of(self.plan.parts[part])

    def dried(self, zones: Zones, vertex: int) -> tuple[str, ...]:
        """The outlet sides that go dry when nothing passes the vertex."""
        return tuple(name for name, tap in self.graph.outlets.items() if zones.shuts(vertex, tap))


def _is_heater(part: Part) -> bool:
    return isinstance(part.own, HeaterOwn) and part.work != "removed"


def _draws(part: Part) -> tuple[str, ...]:
    """The connections of a part, outlets apart, at which water is used."""
    if part.work == "removed":
        return ()
    if isinstance(part.own, HeaterOwn):
        return ("cold",)
    if isinstance(part.own, MixingOwn):
        return ("cold", "hot")
    if KINDS[part.is_].sort == "end" and isinstance(part.own, RestOwn) and part.is_ == "stub-out":
        return ("in",) if part.own.serves != "fire sprinklers" else ()
    return ()
