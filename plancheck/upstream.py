"""Up the way that water takes from the source: what lies before a vertex, and what it is called."""

from __future__ import annotations

from plancheck.answers import is_new
from plancheck.facts import Facts
from plancheck.model import ManifoldOwn, Path


def above(facts: Facts, vertex: int) -> int | None:
    """The vertex that water passes before this one."""
    number = facts.traced.parents.get(vertex, -1)
    if number < 0:
        return None
    edge = facts.network.edges[number]
    return edge.a if edge.b == vertex else edge.b


def new_pipe(facts: Facts, tap: int, root: int) -> bool:
    """Whether any run from the root to the tap is new."""
    vertex: int | None = tap
    while vertex is not None:
        number = facts.traced.parents.get(vertex, -1)
        run = facts.network.edges[number].run if number >= 0 else None
        if run is not None and is_new(facts.plan.runs[run]):
            return True
        vertex = None if vertex == root else above(facts, vertex)
    return False


def place_of(facts: Facts, vertex: int) -> Path:
    """Where a vertex is in the plan: a manifold's port, the run that ends there, else its part."""
    name = facts.network.names[vertex].partition(":")[0]
    part, _, connection = name.partition("/")
    own = facts.plan.parts[part].own
    if isinstance(own, ManifoldOwn) and connection in own.ports and own.ports[connection].use != "feed":
        return ("parts", part, "ports", connection)
    seen: int | None = vertex
    while seen is not None:
        number = facts.traced.parents.get(seen, -1)
        run = facts.network.edges[number].run if number >= 0 else None
        if run is not None:
            return ("runs", run)
        seen = above(facts, seen)
    return ("parts", part)


def feeder(facts: Facts, tap: int) -> str:
    """What a side is fed from, in words: the port of its circuit, else the last run before it."""
    circuit = facts.traced.circuits.get(tap)
    if circuit is not None:
        return circuit
    place = place_of(facts, tap)
    return str(place[-1])
