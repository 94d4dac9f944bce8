"""Where a mixing valve in the line stands: what draws behind it, and where the water that circulates behind it comes back."""

from __future__ import annotations

from plancheck.facts import Facts
from plancheck.model import HeaterOwn, Part
from plancheck.network.search import reach
from plancheck.network.waters import HOT, RETURN
from plancheck.record import NamedTuple


class Role(NamedTuple):
    """A mixing valve: the fixtures behind it (those behind a further mixing valve too), whether it tempers the house, and the
    heater its hot comes from, if that is traced."""

    fixtures: tuple[Part, ...]
    house: bool
    heater: str | None


def role_of(facts: Facts, valve: str) -> Role:
    """The role of a mixing valve."""
    graph, traced = facts.network, facts.traced
    mixed = graph.number[f"{valve}/mixed"]
    behind = reach(graph.ways, [mixed])
    taps = (name.partition("/")[0] for name, tap in graph.outlets.items() if tap in behind)
    fixtures = tuple(facts.plan.parts[name] for name in dict.fromkeys(taps))
    house = traced.services.get(mixed) == HOT and len(fixtures) > 1
    return Role(fixtures, house, traced.heated.get(graph.number[f"{valve}/hot"]))


class Back(NamedTuple):
    """Where the return of the water behind a valve leads: to a heater, to the valve's cold side."""

    heater: bool
    valve: bool


def return_of(facts: Facts, valve: str) -> Back | None:
    """Where the return behind a mixing valve leads; None where nothing circulates behind it."""
    graph, traced = facts.network, facts.traced
    tail = [v for v, water in traced.services.items() if water == RETURN and traced.heated.get(v) == valve]
    if not tail:
        return None
    fed = reach(graph.ways, tail, graph.hearts)
    heaters = [part.id for part in facts.plan.parts.values() if isinstance(part.own, HeaterOwn)]
    to_heater = any(graph.number.get(f"{id_}/{side}", -1) in fed for id_ in heaters for side in ("cold", "return"))
    return Back(to_heater, graph.number[f"{valve}/cold"] in fed)
