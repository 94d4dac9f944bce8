"""Names that point to other things of the plan: each must be there."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from typing import Any

from plancheck.building.notes import Notes, nearest
from plancheck.kinds import KINDS
from plancheck.model import NOT_KNOWN, FixtureOwn, ManifoldOwn, Path, PathPoint, Plan, Ref


def check_names(plan: Plan, notes: Notes) -> None:
    """Notes every name of a place, tube, part, hot thing or side that is not in the plan."""
    _check_source(plan, notes)
    for part in plan.parts.values():
        _check(part.place, plan.places, "places", _at(plan, "parts", part.id, "place"), notes)
        if isinstance(part.at, PathPoint):
            _check(part.at.above, plan.places, "places", _at(plan, "parts", part.id, "at"), notes)
        if isinstance(part.own, ManifoldOwn):
            _check(part.own.tube, plan.tubes, "tubes", _at(plan, "parts", part.id, "tube"), notes)
    for run in plan.runs.values():
        _check(run.tube, plan.tubes, "tubes", _at(plan, "runs", run.id, "tube"), notes)
        for number, name in enumerate(run.places or ()):
            _check(name, plan.places, "places", (*_at(plan, "runs", run.id, "places"), number), notes)
        for name in run.clear or ():
            _check(name, plan.heat, "heat", (*_at(plan, "runs", run.id, "clear"), name), notes)
        for number, item in enumerate(run.path or ()):
            if isinstance(item, PathPoint) and item.above is not None:
                _check(item.above, plan.places, "places", (*_at(plan, "runs", run.id, "path"), number), notes)
        _check_sides(plan, run.id, (run.from_, run.to), notes)
    for hot in plan.heat.values():
        _check(hot.place, plan.places, "places", ("heat", hot.id, "place"), notes)
    _check_records(plan, notes)


def _check_source(plan: Plan, notes: Notes) -> None:
    sources = [part.id for part in plan.parts.values() if part.is_ == "source"]
    if not sources:
        notes.add(("parts",), "no part is the source", "add one, such as  street: {is: source}", key=True)
    for id_ in sources[1:]:
        says = f"a second source; {sources[0]} is the first"
        notes.add(("parts", id_, "is"), says, "one plan describes one water supply: keep one")


def _check_sides(plan: Plan, run: str, ends: Iterable[Ref | None], notes: Notes) -> None:
    for ref, key in zip(ends, ("from", "to"), strict=True):
        own = plan.parts[ref.part].own if ref is not None else None
        if ref is None or not isinstance(own, FixtureOwn) or ref.connection not in ("hot", "cold"):
            continue
        if getattr(own, ref.connection) == "none":
            says = f"{ref} is written as none, yet this run ends there"
            notes.add(("runs", run, key), says, f"leave  {ref.connection}: none  out, or the run")


def _check_records(plan: Plan, notes: Notes) -> None:
    connections = _Connections(plan)
    _check(plan.water.gauge, connections, "parts", ("water", "gauge"), notes)
    for reading in plan.measured.values():
        _check(reading.at, connections, "parts", ("measured", reading.id, "at"), notes)
        for number, name in enumerate(reading.open if isinstance(reading.open, tuple) else ()):
            _check(name, connections, "parts", ("measured", reading.id, "open", number), notes)
    for name in plan.materials.tubes if plan.materials is not None else ():
        _check(name, plan.tubes, "tubes", ("materials", "tubes", name), notes)
    for test in plan.tests.values() if isinstance(plan.tests, Mapping) else ():
        for number, name in enumerate(test.isolated if isinstance(test.isolated, tuple) else ()):
            _check(name, connections, "parts", ("tests", test.id, "isolated", number), notes)


class _Connections:
    """Parts and part/connection names, as gauges and tests may name them."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan

    def __contains__(self, name: object) -> bool:
        part, slash, connection = str(name).partition("/")
        if part not in self.plan.parts:
            return False
        own = self.plan.parts[part].own
        known = tuple(own.ports) if isinstance(own, ManifoldOwn) else KINDS[self.plan.parts[part].is_].connections
        return not slash or connection in known

    def __iter__(self) -> Any:
        return iter(self.plan.parts)


def _check(name: str | None, known: Container[str], section: str, path: Path, notes: Notes) -> None:
    if name is None or name == NOT_KNOWN or name in known:
        return
    names: Any = known
    notes.add(path, f"'{name}' is not in {section}", f"{nearest(name, names)}write the name of one of them")


def _at(plan: Plan, section: str, id_: str, key: str) -> Path:
    for layer in plan.layers[section, id_]:
        if key in layer.data:
            return (*layer.path, key)
    return (section, id_)
