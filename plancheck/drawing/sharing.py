"""A large plan shared out over sheets: place by place in the order of the storeys, so many runs a sheet as one can read."""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.drawing.spots import Spots
from plancheck.facts import Facts
from plancheck.measures import Length
from plancheck.record import NamedTuple

MOST_RUNS = 80  # on one sheet for the whole plan; with more there are sheets beside it
_A_SHEET = 45


class Share(NamedTuple):
    """One sheet: its number from 1, the places on it in words, its runs."""

    number: int
    title: str
    runs: frozenset[str]


def shares_of(facts: Facts) -> tuple[Share, ...]:
    """The sheets of a large plan; none where one sheet will do, or all runs are in one place."""
    runs = {id_: _place(facts, id_) for id_, run in facts.plan.runs.items() if run.work != "removed"}
    if len(runs) <= MOST_RUNS:
        return ()
    groups = list(_groups(facts, runs))
    return tuple(Share(number, title, ids) for number, (title, ids) in enumerate(groups, 1)) if len(groups) > 1 else ()


def _groups(facts: Facts, runs: dict[str, str | None]) -> Iterator[tuple[str, frozenset[str]]]:
    order = {name: number for number, name in enumerate(facts.plan.places)}
    by_place: dict[str | None, list[str]] = {}
    for id_, place in runs.items():
        by_place.setdefault(place, []).append(id_)
    names: list[str] = []
    ids: list[str] = []
    for place in sorted(by_place, key=lambda one: (_level(facts, one), order.get(one or "", len(order)))):
        if ids and len(ids) + len(by_place[place]) > _A_SHEET:
            yield ", ".join(names), frozenset(ids)
            names, ids = [], []
        names.append(facts.place_name(place) or "no place said")
        ids += by_place[place]
    yield ", ".join(names), frozenset(ids)


def _place(facts: Facts, run: str) -> str | None:
    """The place of a run: where it goes to, else where it comes from."""
    found = facts.plan.runs[run]
    parts = [facts.plan.parts.get(ref.part) for ref in (found.to, found.from_) if ref is not None]
    return next((part.place for part in parts if part is not None and part.place in facts.plan.places), None)


def _level(facts: Facts, place: str | None) -> float:
    found = facts.plan.places.get(place or "")
    return found.level.m if found is not None and isinstance(found.level, Length) else float("inf")


def shared(facts: Facts, spots: Spots, share: Share) -> Spots:
    """What of a plan stands on one sheet: its runs, what they join, and what is made up onto that."""
    lines = tuple(one for one in spots.lines if one.run.id in share.runs)
    there = {ref.part for one in lines for ref in (one.run.from_, one.run.to) if ref is not None}
    for _ in range(4):  # devices made up in a row
        more = {
            part.id
            for part in facts.plan.parts.values()
            if part.id in spots.parts and part.onto is not None and part.onto.part in there
        }
        if more <= there:
            break
        there |= more
    parts = {id_: spot for id_, spot in spots.parts.items() if id_ in there}
    ports = {ref: spot for ref, spot in spots.ports.items() if ref.part in there}
    return spots._replace(
        parts=parts, ports=ports, lines=lines, apart=tuple(id_ for id_ in spots.apart if id_ in there)
    )
