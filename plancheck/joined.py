"""What is joined to a part."""

from __future__ import annotations

from plancheck.facts import Facts
from plancheck.model import Part, Ref


def is_joined(facts: Facts, part: Part, connection: str) -> bool:
    """Whether anything is joined to a connection of a part."""
    graph = facts.network
    vertex = graph.number.get(f"{part.id}/{connection}", -1)
    return vertex >= 0 and any(_leads_out(facts, number, part.id) for number in graph.touching[vertex])


def _leads_out(facts: Facts, number: int, part: str) -> bool:
    a, b, run, _ = facts.network.edges[number]
    names = facts.network.names
    return run is not None or any(names[end].partition("/")[0].partition(":")[0] != part for end in (a, b))


def joined_runs(facts: Facts, part: str) -> list[str]:
    """The runs that end at a part."""
    return [run.id for run in facts.plan.runs.values() if _ends_at(run.from_, part) or _ends_at(run.to, part)]


def _ends_at(ref: Ref | None, part: str) -> bool:
    return ref is not None and ref.part == part
