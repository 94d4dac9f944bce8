"""Water on its way to a wrong side: the runs and ports it comes through, with the place at which that is told."""

from __future__ import annotations

from plancheck.facts import Facts
from plancheck.model import Path
from plancheck.sides import HOT_FITS, all_sides, crossed_runs, wrong_groups
from plancheck.upstream import above


def runs_astray(facts: Facts) -> dict[str, Path]:
    """The runs from a heater on through which hot comes to a cold side, with the place at which that is told."""
    found: dict[str, Path] = {}
    for group in wrong_groups(facts, all_sides(facts)):
        for side in group.sides:
            vertex: int | None = side.tap if side.side == "cold" and side.water in HOT_FITS else None
            while vertex is not None and vertex not in facts.network.hearts:
                number = facts.traced.parents.get(vertex, -1)
                run = facts.network.edges[number].run if number >= 0 else None
                if run is not None:
                    found.setdefault(run, group.root)
                vertex = above(facts, vertex)
    return found


def port_astray(facts: Facts, ports: set[tuple[str, str]]) -> Path | None:
    """Where it is told that a run on one of the ports (manifold, port) leads to a wrong side; None where none does."""
    for run, root in crossed_runs(facts).items():
        for ref in (facts.plan.runs[run].from_, facts.plan.runs[run].to):
            if ref is not None and (ref.part, ref.connection) in ports:
                return root
    return None
