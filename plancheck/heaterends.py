"""What one meets on the pipe from a heater's connection outward, as far as the first branch."""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.facts import Facts
from plancheck.model import Part, Run
from plancheck.record import NamedTuple


class Met(NamedTuple):
    """A run, or a part, met on the way: where it begins and ends, metres of pipe from the heater; None past a run whose
    length nobody says. near and far: how a run is joined at the end towards the heater and at the other one."""

    run: Run | None
    part: Part | None
    begins_m: float | None
    ends_m: float | None
    near: str | None = None
    far: str | None = None


def outward(facts: Facts, heater: str, side: str) -> Iterator[Met]:
    """Runs and parts from `heater/side` outward, in order, up to a branch, a manifold or another heater."""
    graph, plan = facts.network, facts.plan
    vertex, came, m = graph.number[f"{heater}/{side}"], -1, 0.0
    at: float | None = m
    seen = {heater}
    while True:
        onward = [n for n in graph.touching[vertex] if n != came and not _inside(facts, n, heater)]
        if len(onward) != 1:
            return
        came = onward[0]
        a, b, run_id, _ = graph.edges[came]
        forth = a == vertex
        vertex = b if forth else a
        if run_id is not None:
            run = plan.runs[run_id]
            met = _run(facts, run, graph.names[b if forth else a], at)
            at = met.ends_m
            yield met
        part = graph.names[vertex].partition("/")[0].partition(":")[0]
        if vertex in graph.hearts or plan.parts[part].is_ == "manifold":
            return
        if part not in seen:
            seen.add(part)
            yield Met(None, plan.parts[part], at, at)


def _inside(facts: Facts, number: int, heater: str) -> bool:
    a, b, run, _ = facts.network.edges[number]
    return run is None and heater in (facts.network.names[a], facts.network.names[b])


def _run(facts: Facts, run: Run, ends_at: str, at: float | None) -> Met:
    """A run walked to the connection ends_at."""
    length_m = facts.run_length_m(run.id)
    ends_m = at + length_m if at is not None and length_m is not None else None
    near, far = (run.joint.from_, run.joint.to) if run.joint is not None else (None, None)
    if str(run.to) != ends_at:
        near, far = far, near
    return Met(run, None, at, ends_m, near, far)
