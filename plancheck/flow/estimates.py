"""The estimates (`about`) that a computed figure rests on, in the writer's words, and old steel pipe among its runs."""

from collections.abc import Iterable

from plancheck.facts import Facts
from plancheck.flow.house import House
from plancheck.flow.supply import SERVICE
from plancheck.measures import Length, Quantity
from plancheck.model import Flowing, Plan, RegulatorOwn, Run
from plancheck.tubedata import narrowed_by_rust


def runs_among(plan: Plan, house: House, edges: Iterable[str]) -> list[Run]:
    """The runs that edges stand for, in order, each once."""
    names = dict.fromkeys(house.pieces[edge].thing for edge in edges)
    return [plan.runs[name] for name in names if name in plan.runs]


def estimates_on(facts: Facts, house: House, edges: Iterable[str], connections: Iterable[str]) -> str:
    """The estimates among what was read at the supply, lengths and rises of runs, settings of regulators on the edges, and
    heights of the parts of the connections; and steel pipe that is there already, which rust narrows. Each once, empty
    where there are none."""
    plan, edges = facts.plan, list(edges)
    said: list[object] = [plan.water.static]
    rust: list[str] = []
    if SERVICE in edges and isinstance(plan.water.flowing, Flowing):
        said += [plan.water.flowing.pressure, plan.water.flowing.flow]
    for run in runs_among(plan, house, edges):
        rust.append(narrowed_by_rust(run, plan.tubes.get(run.tube or "")))
        said += [run.length, run.rise] if run.id not in facts.geometry.shapes or run.length else []
    for edge in edges:
        part = plan.parts.get(edge)
        said += [part.own.set] if part is not None and isinstance(part.own, RegulatorOwn) else []
    for name in connections:
        part = plan.parts.get(name.partition("/")[0])
        place = plan.places.get(part.place) if part is not None and part.place is not None else None
        said += [part.height] if part is not None else []
        said += [place.level] if place is not None else []
    found = [one.text for one in said if isinstance(one, Length | Quantity) and one.about]
    return ", ".join(dict.fromkeys([*found, *filter(None, rust)]))
