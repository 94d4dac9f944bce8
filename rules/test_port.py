"""A gauge can be put on, and it reads what one wants to know

Looks at: test ports, manifold ports used for testing, and hose or washer valves with a thread and no vacuum breaker; and
    whether one of them stands right: with the main open and every circuit valve shut it reads the supply, with the main
    shut it holds the test of the house. Between it and the main there is no other valve, no check, and no regulator
    without a gauge connection of its own.
Why: a gauge is the only way to see inside the pipe. The pressure test, the setting of the regulator and every later
    hunt for a leak begin by putting one on; without a place for it somebody takes a joint apart.
To mend: give the manifold one port with a ball valve, a hose thread and a cap, normally closed, where a hand gets at it.
Cannot see: whether the thread fits the gauge in the van, whether the cap is tight, whether the port is in anybody's way.
Ask: no model code demands a permanent port; the inspector says where the test gauge is to be seen.
"""

from collections.abc import Iterator, Mapping

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    NONE,
    NOT_KNOWN,
    Facts,
    FixtureOwn,
    GaugePortOwn,
    Limits,
    ManifoldOwn,
    NotShown,
    Outcome,
    Part,
    Path,
    Port,
    Reach,
    RegulatorOwn,
    Rule,
    Subject,
    broken,
    holds,
)

RULE = Rule(highest="advice", stage="layout")

_KEYS = {
    "valve": "its own valve (valve: ball)",
    "end": "what closes its end (end: cap or plug)",
    "normally": "how its valve normally stands (normally: closed)",
    "thread": "the thread a gauge screws on (thread: 3/4 hose)",
    "reach": "how one gets at it (reach: open, or a panel)",
}
_ONE_WAY = ("check valve", "backflow preventer", "pump")


class Gauge(NamedTuple):
    """A connection a gauge can be screwed on. vertex: where it joins the pipe; said: its keys as the plan gives them."""

    name: str
    path: Path
    place: str | None
    vertex: int
    said: dict[str, str | None]


def subjects(facts: Facts) -> Iterator[Subject]:
    """The house, once; then every connection meant for a gauge."""
    gauges = list(_gauges(facts))
    yield Subject(("parts",), "a gauge connection for the house", None, gauges)
    for gauge in gauges:
        if gauge.said:
            yield Subject(gauge.path, gauge.name, gauge.place, gauge)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the house has a gauge connection that stands right, or whether one is complete."""
    if isinstance(subject.thing, Gauge):
        return _complete(subject.thing)
    return _house(subject.thing, facts)


def _gauges(facts: Facts) -> Iterator[Gauge]:
    number = facts.network.number
    for id_, part in facts.plan.parts.items():
        own = part.own
        if isinstance(own, FixtureOwn):
            if _threaded(part.is_, own) and part.work != "removed":
                yield Gauge(facts.part_name(id_), ("parts", id_), part.place, number[f"{id_}/cold"], {})
        elif isinstance(own, ManifoldOwn):
            yield from _ports(part, own, number)
        elif isinstance(own, GaugePortOwn) and part.work != "removed":
            said = _said(own, part.reach)
            yield Gauge(facts.part_name(id_), ("parts", id_), part.place, number[f"{id_}/in"], said)


def _said(own: GaugePortOwn | Port, reach: Reach | str | None) -> dict[str, str | None]:
    return {"valve": own.valve, "end": own.end, "normally": own.normally, "thread": own.thread, "reach": _reach(reach)}


def _threaded(kind: str, own: FixtureOwn) -> bool:
    """Whether a gauge screws straight on: a washer's cold valve, or a hose thread without a vacuum breaker."""
    if kind == "clothes washer":
        return True
    return kind == "hose outlet" and own.breaker == NONE and own.thread not in (None, NONE, NOT_KNOWN)


def _ports(part: Part, own: ManifoldOwn, number: Mapping[str, int]) -> Iterator[Gauge]:
    for id_, port in own.ports.items():
        if port.use == "test" and part.work != "removed":
            name, said = f"{part.id}/{id_}", _said(port, port.reach or part.reach)
            yield Gauge(f"port {name}", ("parts", part.id, "ports", id_), part.place, number[f"{name}:row"], said)


def _reach(said: Reach | str | None) -> str | None:
    return said.kind if isinstance(said, Reach) else said


def _complete(gauge: Gauge) -> Outcome:
    said = gauge.said
    wrong = []
    if said["valve"] == NONE:
        wrong.append("has no valve of its own")
    if said["end"] == NONE:
        wrong.append("is not capped")
    if said["normally"] == "open":
        wrong.append("normally stands open")
    if said["thread"] == NONE:
        wrong.append("has no thread for a gauge")
    if said["reach"] == NONE:
        wrong.append("cannot be reached")
    if wrong:
        return broken(
            f"{gauge.name} {' and '.join(wrong)}.",
            "advice",
            found=", ".join(wrong),
            needed="a valve of its own, a thread, a cap, normally closed, within reach",
            mend="Give it a ball valve, a hose thread and a cap, leave it closed, and keep it within reach.",
        )
    for key, what in _KEYS.items():
        if said[key] is None or said[key] == NOT_KNOWN:
            raise NotShown((*gauge.path, key), what)
    return holds(f"{gauge.name} has a valve, a thread and a cap")


def _house(gauges: list[Gauge], facts: Facts) -> Outcome:
    main = facts.main_valve
    if main is None:
        return broken(
            "No valve of the plan shuts the whole house, so nothing can hold its test.",
            "advice",
            found="no main shutoff",
            needed="a main shutoff with a gauge connection behind it",
            mend="Put a full-way main valve where the service comes in, then a port behind it.",
        )
    reasons = []
    for gauge in gauges:
        reason = _misplaced(gauge, gauges, main, facts)
        if reason is None:
            return holds(f"{gauge.name} reads supply and house")
        reasons.append(f"{gauge.name} {reason}")
    found = "; ".join(reasons) if reasons else "none"
    says = (
        "There is no connection for a pressure gauge." if not reasons else f"No gauge connection stands right: {found}."
    )
    return broken(
        says,
        "advice",
        found=found,
        needed="one that all house pipe reaches without another valve, a check or a bare regulator before it",
        why="No code demands a permanent port, but without one the pressure test and every later fault means taking a "
        "joint apart.",
    )


def _misplaced(gauge: Gauge, gauges: list[Gauge], main: str, facts: Facts) -> str | None:
    """What keeps a gauge from reading the supply with the main open, or the house with the main shut; or None."""
    zones = facts.zones
    if gauge.vertex not in zones.entered:
        return "has no water"
    valves = zones.before.at(gauge.vertex)
    if main not in valves:
        return "stands ahead of the main valve"
    place = valves.index(main)
    if place > 0:
        return f"is shut off by {valves[place - 1]}"
    parts = facts.plan.parts.values()
    checks = facts.between(main, gauge.vertex, [part.id for part in parts if part.is_ in _ONE_WAY])
    if checks:
        return f"stands behind {checks[0]}, which holds the test back"
    regulators = [part.id for part in parts if part.is_ == "regulator"]
    for regulator in facts.between(main, gauge.vertex, regulators) if regulators else ():
        if not _has_port(facts, regulator, gauges):
            return f"stands behind {regulator}, which has no gauge connection of its own"
    return None


def _has_port(facts: Facts, regulator: str, gauges: list[Gauge]) -> bool:
    """Whether the supply side of a regulator can be read: its own port, or a test port that is ahead of it."""
    own = facts.plan.parts[regulator].own
    if isinstance(own, RegulatorOwn) and own.gauge_ports in ("in", "both"):
        return True
    inside, zones = facts.network.number[regulator], facts.zones
    return any(
        gauge.said and gauge.vertex in zones.entered and not zones.shuts(inside, gauge.vertex) for gauge in gauges
    )
