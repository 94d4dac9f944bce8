"""What a gauge should read: standing, or with named fixtures open."""

from collections.abc import Mapping

from plancheck.flow.asked import Step
from plancheck.flow.flow import Flow
from plancheck.flow.house import Missing
from plancheck.hydraulics.plain import Edge, Law, Regulator
from plancheck.hydraulics.solving import Solution
from plancheck.measures.units import WATER_PA_PER_M
from plancheck.model import Plan, Ref
from plancheck.network.joints import inward
from plancheck.record import NamedTuple


class Predicted(NamedTuple):
    """A predicted reading: pressure, Pa; friction_pa: lost by flow between the source and the gauge; flow_m3s: what the
    open fixtures take; route: the way of the water to the gauge; missing, why: why there is none."""

    pa: float
    friction_pa: float = 0.0
    flow_m3s: float = 0.0
    route: tuple[Step, ...] = ()
    missing: Missing | None = None
    why: str = ""


def opened_edges(flow: Flow, parts: tuple[str, ...]) -> tuple[str, ...]:
    """The openings of fixtures as a person opens them: mixed where they mix, else every side they have."""
    found: list[str] = []
    for part in parts:
        fixture = flow.house.fixtures.get(part)
        if fixture is not None:
            found += fixture.mixed or fixture.sides.values()
    return tuple(found)


def predicted(flow: Flow, at: Ref, parts: tuple[str, ...], laws: Mapping[str, Law] | None = None) -> Predicted:
    """The reading at a connection with the fixtures open. laws: other laws for some edges."""
    names = opened_edges(flow, parts)
    standing = flow.standing(at, laws)
    if standing.missing is not None or standing.why:
        return Predicted(0.0, missing=standing.missing, why=standing.why)
    if not names:
        return Predicted(standing.pa)
    solution = flow.opened(names, laws)
    if solution.why:
        return Predicted(0.0, why=solution.why)
    unknown = flow.unknown(solution)
    if unknown is not None:
        return Predicted(0.0, missing=unknown)
    head, route = _head_at(flow, solution, at)
    level = flow.house.levels.of(at)
    if head is None or level is None:
        return Predicted(0.0, why="no water gets there")
    pa = (head - level) * WATER_PA_PER_M
    taken = sum(max(flow_m3s, 0.0) for edge, flow_m3s in solution.flows.items() if _to_air(flow, edge))
    return Predicted(pa, sum(step.loss_m for step in route) * WATER_PA_PER_M, taken, route)


def _head_at(flow: Flow, solution: Solution, ref: Ref) -> tuple[float | None, tuple[Step, ...]]:
    """The head at a connection, and the way of the water that flows to where it hangs.

    A connection that the solution does not reach hangs dead: it has the head of the last node on its way that it does,
    behind a regulator at most what that holds.
    """
    node = flow.house.node(ref)
    head = solution.heads.get(node)
    if head is not None:
        return head, flow.route(solution, node)
    behind: list[Edge] = []
    for name in reversed(flow.way(ref)):
        edge = flow.edges[name]
        node = edge.a if edge.b == node else edge.b
        behind.append(edge)
        head = solution.heads.get(node)
        if head is not None:
            break
    if head is None:
        return None, ()
    for edge in reversed(behind):
        if isinstance(edge.law, Regulator):
            head = min(head, edge.law.set_m)
    return head, flow.route(solution, node)


def _to_air(flow: Flow, edge: str) -> bool:
    return flow.house.pieces[edge].kind == "opening"


def connection_of(plan: Plan, said: str) -> Ref | None:
    """The connection a reading names: part, or part/connection; None where the plan has no such part."""
    name, _, connection = said.partition("/")
    part = plan.parts.get(name)
    return Ref(name, connection or inward(part)) if part is not None else None
