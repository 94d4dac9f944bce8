"""Where a pressure gauge can be screwed on, and what keeps one from reading the supply or holding the house's test."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from plancheck.facts import Facts
from plancheck.limits import NotShown
from plancheck.model import (
    NONE,
    NOT_KNOWN,
    DeviceOwn,
    FixtureOwn,
    GaugePortOwn,
    ManifoldOwn,
    MeterOwn,
    Part,
    Path,
    Port,
    Reach,
    RegulatorOwn,
    ValveOwn,
)
from plancheck.record import NamedTuple

GAUGE_PORT = "a ball valve, a hose thread and a cap, normally closed"
_ONE_WAY = ("check valve", "backflow preventer", "pump")
_UNSAID = (None, NOT_KNOWN)


class Gauge(NamedTuple):
    """A connection a gauge can be screwed on.

    vertex: where it joins the pipe; said: its keys as the plan gives them; doubt: the key that would tell whether a gauge
    screws on at all.
    """

    name: str
    path: Path
    place: str | None
    vertex: int
    said: dict[str, str | None]
    doubt: str | None = None


class Reason(NamedTuple):
    """Why a gauge stands wrong, and the valve or device that parts it from the main, if one does."""

    says: str
    block: str | None = None


def gauges_of(facts: Facts) -> Iterator[Gauge]:
    """The test ports, manifold ports for testing, and threaded valves of washers, trays and hose outlets."""
    number = facts.network.number
    for id_, part in facts.plan.parts.items():
        own = part.own
        if isinstance(own, FixtureOwn):
            doubt = _doubt(part.is_, own)
            if doubt != NONE and part.work != "removed":
                yield Gauge(facts.part_name(id_), ("parts", id_), part.place, number[f"{id_}/cold"], {}, doubt)
        elif isinstance(own, ManifoldOwn):
            yield from _ports(part, own, number)
        elif isinstance(own, GaugePortOwn) and part.work != "removed":
            said = _said(own, part.reach)
            yield Gauge(facts.part_name(id_), ("parts", id_), part.place, number[f"{id_}/in"], said)


def _said(own: GaugePortOwn | Port, reach: Reach | str | None) -> dict[str, str | None]:
    return {"valve": own.valve, "end": own.end, "normally": own.normally, "thread": own.thread, "reach": _reach(reach)}


def _doubt(kind: str, own: FixtureOwn) -> str | None:
    """What keeps a gauge from screwing straight on: nothing (None), the key the plan leaves unsaid, or all (none)."""
    if kind == "clothes washer":
        return None
    if kind not in ("hose outlet", "laundry tray") or own.thread in (None, NONE):
        return NONE
    if own.breaker not in (*_UNSAID, NONE):
        return NONE
    if own.thread == NOT_KNOWN:
        return "thread"
    return "breaker" if own.breaker in _UNSAID else None


def _ports(part: Part, own: ManifoldOwn, number: Mapping[str, int]) -> Iterator[Gauge]:
    for id_, port in own.ports.items():
        if port.use == "test" and part.work != "removed":
            name, said = f"{part.id}/{id_}", _said(port, port.reach or part.reach)
            yield Gauge(f"port {name}", ("parts", part.id, "ports", id_), part.place, number[f"{name}:row"], said)


def _reach(said: Reach | str | None) -> str | None:
    return said.kind if isinstance(said, Reach) else said


def misplaced(gauge: Gauge, gauges: Sequence[Gauge], main: str, facts: Facts) -> Reason | None:
    """What keeps a gauge from reading the supply with the main open, or the house with the main shut; or None.

    Raises NotShown where a key left unsaid would decide.
    """
    zones = facts.zones
    if gauge.vertex not in zones.entered:
        return Reason("has no water")
    valves = zones.before.at(gauge.vertex)
    if main not in valves:
        return Reason("stands ahead of the main valve")
    place = valves.index(main)
    if place > 0:
        return Reason(f"is shut off by {valves[place - 1]}", valves[place - 1])
    parts = facts.plan.parts
    line = [main, *facts.between(main, gauge.vertex, parts)]
    for name in line:
        if _checks(parts[name]) and not _of_entry(parts[name], main, facts):
            return Reason(f"stands behind {name}, which holds the test back", name)
    bare = [name for name in line if parts[name].is_ == "regulator" and not _is_read(facts, name, gauges)]
    for name in bare:
        if _gauge_ports(parts[name]) not in _UNSAID:
            return Reason(f"stands behind {name}, which has no gauge connection of its own", name)
    _known(gauge, line, bare, facts)
    return None


def _known(gauge: Gauge, line: Iterable[str], bare: list[str], facts: Facts) -> None:
    """Raises NotShown for the first key that would tell whether a gauge so placed reads right."""
    if gauge.doubt is not None:
        raise NotShown((*gauge.path, gauge.doubt), "whether a gauge screws on: its thread, and that it has no breaker")
    for name in line:
        if _may_check(facts.plan.parts[name]):
            raise NotShown(("parts", name, "check"), f"whether {name} has a check in it")
    if bare:
        raise NotShown(
            ("parts", bare[0], "gauge_ports"), f"whether {bare[0]} has a gauge connection on its supply side"
        )


def _checks(part: Part) -> bool:
    """Whether water passes it one way only; a regulator is looked at apart."""
    own = part.own
    return part.is_ in _ONE_WAY or (isinstance(own, MeterOwn | DeviceOwn | ValveOwn) and own.check is True)


def _may_check(part: Part) -> bool:
    """Whether nobody says if it has a check in it: of a meter that is left open, of others it is written."""
    own = part.own
    if isinstance(own, MeterOwn):
        return own.check in _UNSAID
    return isinstance(own, DeviceOwn | ValveOwn) and own.check == NOT_KNOWN


def _of_entry(part: Part, main: str, facts: Facts) -> bool:
    """Whether it is a backflow preventer with nothing drawn off between the main and it."""
    if part.is_ != "backflow preventer":
        return False
    number, zones = facts.network.number, facts.zones
    points = facts.shutoffs.points()
    return all(zones.shuts(number[part.id], point) for point in points if zones.shuts(number[main], point))


def entry_remark(gauge: Gauge, main: str, facts: Facts) -> str:
    """The remark on a backflow preventer that stands between the main and the gauge."""
    devices = [part.id for part in facts.plan.parts.values() if part.is_ == "backflow preventer"]
    between = facts.between(main, gauge.vertex, devices)
    return f"; the house is tested behind {between[0]}, the joints between {main} and it apart" if between else ""


def _is_read(facts: Facts, regulator: str, gauges: Iterable[Gauge]) -> bool:
    """Whether the supply side of a regulator can be read: its own port, or a test port that is ahead of it."""
    if _gauge_ports(facts.plan.parts[regulator]) in ("in", "both"):
        return True
    inside, zones = facts.network.number[regulator], facts.zones
    return any(
        gauge.said and gauge.vertex in zones.entered and not zones.shuts(inside, gauge.vertex) for gauge in gauges
    )


def _gauge_ports(part: Part) -> str | None:
    return part.own.gauge_ports if isinstance(part.own, RegulatorOwn) else None


def mend_of(blocks: Iterable[str | None], main: str, facts: Facts) -> str:
    """What to add: a port where a manifold has room for one, else a tee ahead of what parts the gauges from the main."""
    port = _new_port(main, facts)
    if port is not None:
        return port
    block = next(filter(None, blocks), None)
    if block == main:
        return f"Use a main valve ({main}) without a check in it."
    ahead = f", ahead of {block}" if block is not None else ""
    return f"Put a tee right behind {main}{ahead}, with {GAUGE_PORT}."


def _new_port(main: str, facts: Facts) -> str | None:
    """The port to add on a manifold that nothing parts from the main, or None where there is no such manifold."""
    for part in facts.plan.parts.values():
        ports = part.own.ports if isinstance(part.own, ManifoldOwn) and part.work != "removed" else {}
        fitting = [id_ for id_ in ports if _fits(f"{part.id}/{id_}", main, facts)]
        spare = next((id_ for id_ in fitting if ports[id_].use == "spare"), None)
        if spare is not None:
            return f"Make the spare port {part.id}/{spare} one for testing: {GAUGE_PORT}."
        if fitting:
            return f"Give {part.id} one port more, with {GAUGE_PORT}."
    return None


def _fits(port: str, main: str, facts: Facts) -> bool:
    vertex = facts.network.number.get(f"{port}:row", -1)
    try:
        return misplaced(Gauge("", (), None, vertex, {}), (), main, facts) is None
    except NotShown:
        return False
