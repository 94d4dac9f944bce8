"""The ring really is a ring, and a hot ring is looked at twice

Looks at: each manifold drawn as a ring, and rows whose ends are joined into one: whether every port in use still gets water
    with any one piece of the ring taken out; whether its section valves stand open; whether it has ports enough to be worth
    it; and whether hot water is led round in one without a pump.
Why: a ring helps because water comes to each port from two sides. Behind a valve that is left closed, or a check valve, it
    is two long arms, and the last port of each gets what the others leave.
To mend: open the section valve; or draw it straight, and size it as what it is. Feed hot lines from one end.
Cannot see: how a section valve really stands, and what a ring gains: `ring_benefit` computes that.
Ask: the authority, before a hot ring is built: the IRC allows cold lines that are fed from two sides, and not hot ones. A
    loop that a pump drives is another thing, `circulation_loop` looks at it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    NOT_KNOWN,
    PRACTICE,
    Facts,
    Limit,
    Limits,
    ManifoldOwn,
    Measured,
    NotShown,
    Outcome,
    Part,
    Path,
    Port,
    Rule,
    Subject,
    Value,
    broken,
    capital,
    holds,
    is_new,
    on_site,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.ringed import Ringed

HOT_RING = Limit(
    "hot_ring",
    "hot lines fed from two sides",
    "text",
    "",
    irc=(Value("only parallel lines of their own", recalled("IRC", "2018", "P2903.8")),),
)
LEAST_PORTS = Limit(
    "least_ports",
    "ports in use on a ring",
    "count",
    "at least",
    practice=(Value(3.0, PRACTICE, practice=True),),
)
RULE = Rule("advice", "layout", (HOT_RING, LEAST_PORTS))

_RING, _SECTION, _HOT = "ring", "section", "hot"


class Asked(NamedTuple):
    """One question: what is asked, the manifold (of a hot ring of pipe none), the ring as traced, and the section valve."""

    asks: str
    part: Part | None
    ring: Ringed | None
    port: Port | None = None


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each ring of manifolds, each section valve on one, each hot ring that no pump drives."""
    parts = facts.plan.parts
    rows = [part for part in parts.values() if isinstance(part.own, ManifoldOwn) and part.work != "removed"]
    if not rows and not facts.traced.rings:
        return
    from plancheck.ringed import ringed

    rings = ringed(facts) if facts.traced.rings else ()
    on = {id_: ring for ring in rings if not ring.circulated for id_ in ring.manifolds}
    circulated = {id_ for ring in rings if ring.circulated for id_ in ring.manifolds}
    told: set[frozenset[int]] = set()
    for part in rows:
        own, ring = part.own, on.get(part.id)
        written = isinstance(own, ManifoldOwn) and own.shape == "ring"
        new = ring is not None and ring.vertices not in told
        if (written and part.id not in circulated) or (new and ring is not None and not ring.drawn):
            yield Subject(
                ("parts", part.id), f"ring of {facts.part_name(part.id)}", part.place, Asked(_RING, part, ring)
            )
            told.update([ring.vertices] if ring is not None else [])
        if written and ring is not None:
            yield from _sections(part, ring, facts)
    for ring in rings:
        if ring.hot and not ring.circulated:
            yield _hot_subject(ring, facts)


def _sections(part: Part, ring: Ringed, facts: Facts) -> Iterator[Subject]:
    for port in part.own.ports.values() if isinstance(part.own, ManifoldOwn) else ():
        if port.use == "section":
            name = f"section valve {facts.part_name(part.id)} {port.id}"
            yield Subject(("parts", part.id, "ports", port.id), name, part.place, Asked(_SECTION, part, ring, port))


def _hot_subject(ring: Ringed, facts: Facts) -> Subject:
    if ring.manifolds:
        part = facts.plan.parts[ring.manifolds[0]]
        return Subject(
            ("parts", part.id), f"hot ring of {facts.part_name(part.id)}", part.place, Asked(_HOT, part, ring)
        )
    run = next(run for number in ring.edges if (run := facts.network.edges[number].run) is not None)
    return Subject(("runs", run), f"hot ring at {run}", facts.run_place(run), Asked(_HOT, None, ring))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """One of the three questions."""
    asked: Asked = subject.thing
    if asked.part is not None and not is_new(asked.part):
        return on_site("old manifold: see whether it is a ring, and how its valves stand")
    if asked.asks == _HOT and asked.ring is not None:
        return _hot(subject, asked.ring, facts, limits)
    if asked.asks == _SECTION and asked.part is not None and asked.port is not None:
        return _section(asked.part, asked.port, asked.ring, facts)
    return _ring(asked, facts, limits)


def _ring(asked: Asked, facts: Facts, limits: Limits) -> Outcome:
    """Whether every port in use has water with any one piece out."""
    from plancheck.ringed import used_ports, worst_out

    part, ring = asked.part, asked.ring
    if part is None:
        return holds()
    own_ports = used_ports(facts, part)
    least = limits.of(LEAST_PORTS)
    written = isinstance(part.own, ManifoldOwn) and part.own.shape == "ring"
    if written and (ring is None or ring.manifolds == (part.id,)) and len(own_ports) < least.number:
        return _too_few(part, len(own_ports), least.number, facts, limits)
    if ring is None:
        return holds()
    if not ring.drawn and ring.closed:
        return holds(f"drawn straight, and straight while {ring.closed[0]} is closed")
    if (unsaid := _unsaid(ring, facts)) is not None:
        raise NotShown(unsaid, "how the section valve is left (normally: open)")
    names = [f"{id_}/{port}" for id_ in ring.manifolds for port in used_ports(facts, facts.plan.parts[id_])]
    out = worst_out(facts, ring, names)
    if out is None:
        return holds("" if ring.drawn else "drawn straight, but its ends are joined: a ring in fact")
    dry = [name if len(ring.manifolds) > 1 else name.partition("/")[2] for name in out.dry]
    return broken(
        f"{_name(part, facts)}: with {out.piece} out, {_listed(dry)} {'gets' if len(dry) == 1 else 'get'} no water.",
        "advice",
        found=f"no second way to {_listed(dry)}",
        needed="water to every port with any one piece out",
        mend="Let water pass both ways round (open its valves, no check valve in it), or draw it straight and size it so.",
        cause=_path_of(ring.closed[0], facts) if ring.closed else None,
    )


def _too_few(part: Part, ports: int, least: float, facts: Facts, limits: Limits) -> Outcome:
    count = "no port" if not ports else "1 port" if ports == 1 else f"{ports} ports"
    return broken(
        f"{_name(part, facts)} is drawn as a ring and has {count} in use.",
        "advice",
        measured=Measured(ports, "count"),
        limit=limits.of(LEAST_PORTS),
        found=f"{count} in use",
        needed=f"at least {least:g}, or a straight row",
        mend=f"Draw it straight (shape: straight); a ring of fewer than {least:g} ports gains nothing.",
    )


def _unsaid(ring: Ringed, facts: Facts) -> Path | None:
    """The first section valve on a ring of which it is not said how it is left."""
    for id_ in ring.manifolds:
        own = facts.plan.parts[id_].own
        for port in own.ports.values() if isinstance(own, ManifoldOwn) else ():
            if port.use == "section" and port.normally in (None, NOT_KNOWN):
                return ("parts", id_, "ports", port.id, "normally")
    return None


def _path_of(valve: str, facts: Facts) -> Path:
    """Where a valve of a ring stands in the plan."""
    part, _, port = valve.partition("/")
    return ("parts", part, "ports", port) if isinstance(facts.plan.parts[part].own, ManifoldOwn) else ("parts", part)


def _section(part: Part, port: Port, ring: Ringed | None, facts: Facts) -> Outcome:
    """Whether a section valve is left open."""
    if port.normally in (None, NOT_KNOWN):
        raise NotShown(
            ("parts", part.id, "ports", port.id, "normally"), "how the section valve is left (normally: open)"
        )
    if port.normally != "closed":
        return holds("open")
    straight = "Draw it straight and size it so"
    hot = ring is not None and ring.hot and facts.family == "irc"
    return broken(
        f"{_name(part, facts)}: section valve {_between(part, port)} is normally closed: "
        "the ring runs as two dead-end arms.",
        "advice",
        found="closed",
        needed="open, or a straight row",
        mend=f"{straight}; a hot ring is not allowed here."
        if hot
        else f"Open it, or {straight[0].lower()}{straight[1:]}.",
    )


def _between(part: Part, port: Port) -> str:
    """Where a section valve sits in its row."""
    names = [one.id for one in part.own.ports.values()] if isinstance(part.own, ManifoldOwn) else []
    at = names.index(port.id)
    return f"{port.id} between {names[at - 1]} and {names[(at + 1) % len(names)]}"


def _hot(subject: Subject, ring: Ringed, facts: Facts, limits: Limits) -> Outcome:
    """Whether hot lines are fed from two sides where the code has none such."""
    if subject.path[0] == "runs" and not is_new(facts.plan.runs[str(subject.path[1])]):
        return on_site("old hot ring: see how it is fed")
    if ring.closed:
        return holds(f"{ring.closed[0]} is closed: no line is fed from two sides")
    limit = limits.maybe(HOT_RING)
    if limit is None and facts.family is None:
        raise NotShown(("code", "family"), "the code the job is built under (irc, ipc or upc)")
    if limit is None:
        return holds("this code says nothing against hot lines fed from two sides")
    return broken(
        f"{capital(subject.name)}: its hot lines are fed from two sides, with no pump.",
        "advice",
        limit=limit,
        found="a hot ring",
        needed="hot lines that are fed from one end",
        mend="Leave the piece out that closes it, and size the row as a straight one.",
        ask="Ask the authority before it is built; a loop that a pump drives is another thing.",
    )


def _name(part: Part, facts: Facts) -> str:
    return capital(facts.part_name(part.id))


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
