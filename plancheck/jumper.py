"""The jumper by which hot pipe is filled from the cold side while no heater is joined, as one does for the test."""

from __future__ import annotations

from plancheck.facts import Facts
from plancheck.model import HeaterOwn


def jumper_runs(facts: Facts) -> tuple[str, ...]:
    """The runs in a row by which cold comes to all hot sides, first the one nearest the source; empty where none does."""
    graph, traced = facts.network, facts.traced
    if any(len(graph.touching[end]) > 1 for end in _heater_ends(facts)):
        return ()
    hot = [tap for side, tap in graph.outlets.items() if side.endswith("/hot") and tap in traced.parents]
    if not hot or any(traced.services.get(tap) != "cold" for tap in hot):
        return ()
    ways = [_way(facts, tap) for tap in hot]
    others = {run for side, tap in graph.outlets.items() if not side.endswith("/hot") for run in _way(facts, tap)}
    shared = [run for run in ways[0] if all(run in way for way in ways) and run not in others]
    return tuple(reversed(shared))


def _heater_ends(facts: Facts) -> list[int]:
    parts = [
        part.id for part in facts.plan.parts.values() if isinstance(part.own, HeaterOwn) and part.work != "removed"
    ]
    return [facts.network.number[f"{part}/{side}"] for part in parts for side in ("cold", "hot")]


def _way(facts: Facts, tap: int) -> list[str]:
    """The runs that water to a tap passes, the last one first."""
    found, vertex, edges = [], tap, facts.network.edges
    while (number := facts.traced.parents.get(vertex, -1)) >= 0:
        a, b, run, _ = edges[number]
        if run is not None:
            found.append(run)
        vertex = a if b == vertex else b
    return found
