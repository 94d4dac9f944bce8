"""Which pipe and parts lead to a tap that people drink from, and what wetted metal of them is stated."""

from __future__ import annotations

from plancheck.answers import is_new, tube_of
from plancheck.facts import Facts
from plancheck.kinds import KINDS
from plancheck.model import ManifoldOwn, Part
from plancheck.record import NamedTuple

DRUNK_AT = frozenset(("kitchen sink", "bar sink", "lavatory", "ice maker", "rest of house"))
_METAL_MOSTLY = frozenset(
    ("valve", "check valve", "regulator", "backflow preventer", "tee", "adapter", "pump", "mixing valve", "manifold")
)


class Wetted(NamedTuple):
    """What new work puts in the way of drinking water.

    bodies: stated body -> parts; unstated: parts of which it is not stated; solders: stated solder -> runs; unsaid:
    soldered runs whose solder is not stated; pipes: runs of brass or galvanised pipe.
    """

    bodies: dict[str, list[str]]
    unstated: list[str]
    solders: dict[str, list[str]]
    unsaid: list[str]
    pipes: list[str]


def wetted(facts: Facts) -> Wetted:
    """The stated and the unstated metal on the way to taps that people drink from; solder on all drinking water."""
    drunk = leading_to_drinkers(facts)
    found = Wetted({}, [], {}, [], [])
    for part in facts.plan.parts.values():
        if is_new(part) and (part.body is not None or part.is_ in _METAL_MOSTLY) and _leads(part, drunk, facts):
            if part.body is not None:
                found.bodies.setdefault(part.body, []).append(part.id)
            elif not (isinstance(part.own, ManifoldOwn) and part.own.tube is not None):
                found.unstated.append(part.id)
    for run in facts.plan.runs.values():
        if not is_new(run) or facts.carried(run.id).service in (None, "not potable"):
            continue
        tube = tube_of(run, facts.plan)
        if run.solder is not None:
            found.solders.setdefault(run.solder, []).append(run.id)
        elif run.joint is not None and "solder" in (run.joint.from_, run.joint.to):
            found.unsaid.append(run.id)
        if tube is not None and tube.material in ("brass", "galvanised steel"):
            found.pipes.append(run.id)
    return found


def leading_to_drinkers(facts: Facts) -> frozenset[int]:
    """The vertices from which water, as it first comes from the source, goes on to such taps; a ring counts whole."""
    graph, parts, parents = facts.network, facts.plan.parts, facts.traced.parents
    taps = ((side.partition("/")[0], tap) for side, tap in graph.outlets.items())
    found = {tap for part, tap in taps if parts[part].is_ in DRUNK_AT}
    for vertex, number in reversed(list(parents.items())):
        if vertex in found and number >= 0:
            a, b = graph.edges[number][:2]
            found.add(a if b == vertex else b)
    on_rings = {end for number in facts.traced.rings for end in graph.edges[number][:2]}
    return frozenset(found | on_rings if found & on_rings else found)


def _leads(part: Part, drunk: frozenset[int], facts: Facts) -> bool:
    number = facts.network.number
    own = part.own
    if isinstance(own, ManifoldOwn):
        return any(number.get(f"{part.id}/{port}") in drunk for port in own.ports)
    names = (part.id, *(f"{part.id}/{name}" for name in KINDS[part.is_].connections))
    return any(number.get(name) in drunk for name in names)
