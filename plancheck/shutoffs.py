"""What closing a valve does, beyond the bare zones: the mains of a house, what hangs on a port, and the ways round.

Names are those of the graph: a valve part by its id, a port's valve `manifold/port`, a stop `part/side`. Valves that are
left closed count as open for what gets its water through them alone; a listed return bypass lets none through.
"""

from collections.abc import Iterable, Iterator

from plancheck.model import NONE, NOT_KNOWN, HeaterOwn, ManifoldOwn, MixingOwn, Part, Path, Plan, RestOwn, ValveOwn
from plancheck.network.entry import mains
from plancheck.network.graph import Graph
from plancheck.network.trace import Traced
from plancheck.network.waters import COLD
from plancheck.network.zones import Zones, find_zones
from plancheck.portwalks import PortWalks, as_drawn, outward, ports_of
from plancheck.record import NamedTuple
from plancheck.valves import Described, described, stop_missing


class Chain(NamedTuple):
    """The valves on the only way to a point, nearest first, and the zones they were read from."""

    valves: tuple[str, ...]
    zones: Zones


_DRAWING = frozenset((HeaterOwn, MixingOwn, RestOwn))


class Shutoffs:
    """The valves of one plan and what they shut, each answer made when it is asked."""

    def __init__(self, plan: Plan, graph: Graph, traced: Traced, zones: Zones) -> None:
        self.plan = plan
        self.graph = graph
        self.traced = traced
        self.zones = zones
        if graph.bypasses:
            self.zones = find_zones(graph._replace(closed=graph.closed | graph.bypasses))
        self.mains = mains(plan, graph, self.zones)
        self._opened: Zones | None = None
        self._drawn: Zones | None = None
        self._points: dict[int, str] | None = None
        self._ports: PortWalks | None = None
        self._inlets: dict[str, int] | None = None
        self._valveless: list[tuple[str, str | None, int]] | None = None
        self._chains: dict[str, Chain | None] = {}
        self._beside: dict[str, tuple[int, ...]] = {}
        self._ahead: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {}

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
        return Chain(zones.before.at(vertex), zones) if zones is not None else None

    def chain_of_side(self, side: str) -> Chain | None:
        """The same for an outlet side (`part/side`)."""
        if side not in self._chains:
            tap, zones = self.graph.outlets[side], self.zones
            self._chains[side] = Chain(zones.before.at(tap), zones) if tap in zones.entered else self.chain(tap)
        return self._chains[side]

    def ahead(self, main: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """The outlets and stub-outs with water that the main does not shut: without and with a valve on their branch."""
        if main not in self._ahead:
            inside, zones = self.graph.number[main], self.zones
            wet = [point for point in self.points() if point in zones.entered and not zones.shuts(inside, point)]
            valved = {point for point in wet if self._has_branch_valve(point)}
            names = self.points()
            self._ahead[main] = (
                tuple(names[point] for point in wet if point not in valved),
                tuple(names[point] for point in wet if point in valved),
            )
        return self._ahead[main]

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
                if type(part.own) in _DRAWING and part.work != "removed":
                    for connection in _draws(part):
                        name = f"{part.id}/{connection}"
                        self._points[self.graph.number[name]] = name
        return self._points

    @property
    def ports(self) -> PortWalks:
        """Walks from the ports of the plan's manifolds."""
        if self._ports is None:
            self._ports = PortWalks(self.plan, self.graph, self.traced, self.points(), self.zones.entered)
        return self._ports

    def still_wet(self, vertex: int, points: Iterable[int]) -> list[int]:
        """Of the points those that have water though nothing passes the vertex."""
        entered = self.zones.entered
        first = entered.get(vertex, 0)
        end = self.zones.left.get(vertex, 0)  # of a vertex without water: none is shut by it
        wet = []
        for point in points:
            at = entered.get(point)
            if at is None:
                opened = self.zones_at(point)
                if opened is not None and not opened.shuts(vertex, point):
                    wet.append(point)
            elif not first <= at < end:
                wet.append(point)
        return wet

    def wet_across(self, port: str, hanging: Iterable[int]) -> list[int]:
        """The points that have water though a port is closed, because hot and cold are joined where nothing should."""
        if not self.traced.crossovers:
            return []
        if self._drawn is None:
            drawn = as_drawn(self.graph)
            self._drawn = find_zones(drawn._replace(closed=drawn.closed | drawn.bypasses))
        end, zones = self.graph.number[port], self._drawn
        crossed = self.ports.crossed(port, hanging)
        return [point for point in crossed if point in zones.entered and not zones.shuts(end, point)]

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
        return any(self.zones.shuts(vertex, inlet) for inlet in self._heater_inlets().values())

    def _heater_inlets(self) -> dict[str, int]:
        """The cold sides of the heaters, by heater."""
        if self._inlets is None:
            heaters = (p.id for p in self.plan.parts.values() if isinstance(p.own, HeaterOwn) and p.work != "removed")
            self._inlets = {heater: self.graph.number[f"{heater}/cold"] for heater in heaters}
        return self._inlets

    def heater_alone(self, heater: str, vertex: int, zones: Zones) -> bool:
        """Whether nothing but the heater and what it feeds goes dry when nothing passes the vertex."""
        if heater not in self._beside:
            self._beside[heater] = self._not_fed_by(heater)
        first, end, spot = zones.entered.get(vertex, 0), zones.left.get(vertex, 0), zones.entered.get
        return not any(first <= spot(other, -1) < end for other in self._beside[heater])

    def _not_fed_by(self, heater: str) -> tuple[int, ...]:
        """The outlets, and the inlets of other heaters, that get no hot water of this heater."""
        graph = self.graph
        fed = set(outward(graph, [graph.number[f"{heater}/hot"]], (), (), self.traced.services, (COLD,)))
        inlets = (inlet for other, inlet in self._heater_inlets().items() if other != heater)
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
        if self._valveless is None:
            self._valveless = list(self._find_valveless())
        zones = self.zones_at(vertex) if self._valveless else None
        return (one for one in self._valveless if zones is not None and zones.shuts(one[2], vertex))

    def _find_valveless(self) -> Iterator[tuple[str, str | None, int]]:
        for part in self.plan.parts.values():
            for port in ports_of(part).values():
                end = self.graph.number.get(f"{part.id}/{port.id}")
                if port.valve in (None, NONE, NOT_KNOWN) and port.use not in ("feed", "section") and end is not None:
                    yield f"{part.id}/{port.id}", port.valve, end

    def described(self, valve: str) -> Described:
        """What the plan says of a valve: style, reach, label, and where."""
        return described(self.plan, valve)

    def stop_missing(self, side: str) -> Path | None:
        """The key that would tell whether an outlet side has a stop; None where the plan says."""
        return stop_missing(self.plan, side)

    def unsaid_valve(self, side: str) -> Path | None:
        """The first key that would tell of one valve more before an outlet side: its stop, or a port's valve."""
        missing = self.stop_missing(side)
        return missing or next((path for path, _ in self.unsaid_ports(self.graph.outlets[side])), None)

    def is_port(self, name: str) -> bool:
        """Whether the name is that of a manifold's port."""
        part, _, end = name.partition("/")
        return end != "" and end in ports_of(self.plan.parts[part])

    def dried(self, zones: Zones, vertex: int) -> tuple[str, ...]:
        """The outlet sides that go dry when nothing passes the vertex."""
        return tuple(name for name, tap in self.graph.outlets.items() if zones.shuts(vertex, tap))


def _draws(part: Part) -> tuple[str, ...]:
    """The connections of such a part at which water is used."""
    if isinstance(part.own, HeaterOwn):
        return ("cold",)
    if isinstance(part.own, MixingOwn):
        return ("cold", "hot")
    irrigates = part.is_ == "stub-out" and isinstance(part.own, RestOwn) and part.own.serves != "fire sprinklers"
    return ("in",) if irrigates else ()
