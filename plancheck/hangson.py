"""What hangs on each manifold: its outlets, through branches, further manifolds and heaters, and what they draw together."""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.facts import Facts
from plancheck.flow.required import ROWS, WASHER_M3S, drawn, rows_of
from plancheck.limits import NotShown
from plancheck.model import HeaterOwn, ManifoldOwn, MixingOwn, Part, RestOwn, Run
from plancheck.record import NamedTuple

_TAKING = frozenset((HeaterOwn, MixingOwn, RestOwn, ManifoldOwn))
_SOME = 2  # ports in use, so that a row has an end


class Hung(NamedTuple):
    """What hangs on one manifold.

    outlets: parts, each once, those that get only hot water of it through a heater last; branching: the first port
    (`manifold/port`) that is no line to one outlet alone, nor a heater's or a mixing valve's, nor a further manifold's of
    lines; empty where there is none; heaters: port -> heater on it; feed: the edge by which its water comes.
    """

    outlets: tuple[str, ...]
    branching: str
    heaters: dict[str, str]
    feed: int | None


class Hanging:
    """The manifolds of one plan with what hangs on them, each looked up when it is asked."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        graph, circuits = facts.network, facts.traced.circuits
        self.sides: dict[str, list[str]] = {}  # port -> outlet sides on it
        self.hot: dict[str, list[str]] = {}  # heater -> outlet sides it heats
        for side, tap in graph.outlets.items():
            if tap in circuits:
                self.sides.setdefault(circuits[tap], []).append(side)
            for source in self._warmed_by(tap):
                self.hot.setdefault(source, []).append(side)
        self.on: dict[str, list[str]] = {}  # port -> manifolds, heaters, mixing valves and sprinklers on it
        for part in facts.plan.parts.values():
            for inlet in _inlets(part) if type(part.own) in _TAKING and part.work != "removed" else ():
                vertex = graph.number.get(f"{part.id}/{inlet}", -1)
                if vertex in circuits:
                    self.on.setdefault(circuits[vertex], []).append(part.id)

    def _warmed_by(self, vertex: int) -> list[str]:
        """The mixing valves, nearest first, and then the heater, through which the water at a vertex comes."""
        traced, number, found = self.facts.traced, self.facts.network.number, list[str]()
        source = traced.heated.get(vertex)
        while source is not None and source not in found:
            found.append(source)
            source = traced.heated.get(number.get(f"{source}/hot", -1))
        return found

    def of(self, part: Part, seen: frozenset[str] = frozenset()) -> Hung:
        """What hangs on a manifold."""
        outlets: dict[str, None] = {}
        warmed: dict[str, None] = {}
        heaters: dict[str, str] = {}
        branching = ""
        parts = self.facts.plan.parts
        for port in self._ports(part):
            sides, others = self.sides.get(port, []), self.on.get(port, [])
            outlets.update((side.partition("/")[0], None) for side in sides)
            if len(sides) + len(others) > 1:
                branching = branching or port
            for other in others:
                own = parts[other].own
                if isinstance(own, RestOwn):
                    branching = branching or port
                elif isinstance(own, HeaterOwn | MixingOwn):
                    heaters |= {port: other} if isinstance(own, HeaterOwn) else {}
                    warmed.update((side.partition("/")[0], None) for side in self.hot.get(other, []))
                elif other not in seen and other != part.id:
                    more = self.of(parts[other], seen | {part.id})
                    outlets.update(dict.fromkeys(more.outlets))
                    branching = branching or more.branching
        hung = tuple(outlets | warmed)
        rest = next((one for one in hung if parts[one].is_ == "rest of house"), "")
        return Hung(hung, branching or rest, heaters, self._feed(part))

    def heater_at_end(self, part: Part) -> str | None:
        """The port at the end of a straight row on which a heater hangs; ports nothing draws at are no end."""
        own = part.own
        if not isinstance(own, ManifoldOwn) or own.shape == "ring":
            return None
        ports = list(own.ports.values())
        feeds = [number for number, port in enumerate(ports) if port.use == "feed"]
        used = [
            number
            for number, port in enumerate(ports)
            if (name := f"{part.id}/{port.id}") in self.on or name in self.sides
        ]
        if len(used) < _SOME or len(feeds) != 1:
            return None
        ends = {used[0], used[-1]} - {used[0] if feeds[0] < used[0] else used[-1] if feeds[0] > used[-1] else -1}
        for number in sorted(ends):
            name = f"{part.id}/{ports[number].id}"
            if any(isinstance(self.facts.plan.parts[one].own, HeaterOwn) for one in self.on.get(name, [])):
                return name
        return None

    def run_at(self, port: str) -> Run | None:
        """The run that begins or ends at a port."""
        runs = self.facts.plan.runs.values()
        return next((run for run in runs if run.work != "removed" and port in (str(run.from_), str(run.to))), None)

    def _ports(self, part: Part) -> Iterator[str]:
        for port in part.own.ports.values() if isinstance(part.own, ManifoldOwn) else ():
            if port.use not in ("feed", "section"):
                yield f"{part.id}/{port.id}"

    def _feed(self, part: Part) -> int | None:
        """The edge from outside to the manifold's feed, else the one inside behind it."""
        number = self.facts.network.number
        inlet = next((number.get(f"{part.id}/{name}") for name in _inlets(part)), None)
        return self.facts.traced.parents.get(inlet) if inlet is not None else None


class Drawn(NamedTuple):
    """What hangs on a manifold draws together, m3/s: at least and at most; peak: by fixture units, as circuits branch.

    missing: the fact between least and most, or without which nothing is known (then both are 0).
    """

    least_m3s: float
    most_m3s: float
    peak: bool
    missing: NotShown | None = None


def drawn_by(facts: Facts, hung: Hung) -> Drawn:
    """All outlets at their full rates where each has a line of its own, else the peak flow by fixture units."""
    if not hung.branching:
        return _all_at_once(facts, hung.outlets)
    if hung.feed is None:
        return Drawn(0.0, 0.0, True, NotShown(("runs",), "water that reaches the manifold"))
    try:
        peak = facts.loads.of_edge(hung.feed).by_units
    except KeyError:
        return Drawn(0.0, 0.0, True, NotShown(("runs",), "which way the manifold serves"))
    if peak.flow_m3s is None:
        gap = peak.missing[0]
        return Drawn(0.0, 0.0, True, NotShown(gap.path, gap.what))
    return Drawn(peak.flow_m3s, peak.flow_m3s, True)


def _all_at_once(facts: Facts, outlets: tuple[str, ...]) -> Drawn:
    least = most = 0.0
    missing = None
    for id_ in outlets:
        part = facts.plan.parts[id_]
        rates = _rates(part)
        least, most = least + min(rates), most + max(rates)
        if min(rates) < max(rates):
            missing = missing or NotShown(("parts", id_, "style"), "how the toilet flushes, and with it what it draws")
    return Drawn(least, most, False, missing)


def _rates(part: Part) -> list[float]:
    """The flows an outlet may be reckoned with, m3/s; an ice maker's trickle counts nothing."""
    if part.is_ == "clothes washer":
        return [WASHER_M3S]
    rows = rows_of(part)
    return [drawn(part, row, ROWS[row].flow_m3s) if row == "shower" else ROWS[row].flow_m3s for row in rows] or [0.0]


def _inlets(part: Part) -> tuple[str, ...]:
    """The connections by which something takes water from a port, but outlets."""
    if isinstance(part.own, HeaterOwn):
        return ("cold",)
    if isinstance(part.own, MixingOwn):
        return ("cold", "hot")
    if isinstance(part.own, RestOwn):
        return ("in",) if part.own.serves == "irrigation" else ()
    ports = part.own.ports.values() if isinstance(part.own, ManifoldOwn) else ()
    return tuple(port.id for port in ports if port.use == "feed")[:1]
