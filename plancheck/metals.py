"""Where copper comes to galvanised steel: the parts between them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from plancheck.answers import is_new
from plancheck.facts import Facts
from plancheck.kinds import KINDS
from plancheck.model import Part, Plan, Run
from plancheck.record import NamedTuple

_COPPER, _STEEL = "copper", "galvanised steel"
_NO_METAL = frozenset(("heater", "fixture", "supply"))


class Meeting(NamedTuple):
    """Copper and steel at one part: what brings the copper and the steel, in words; new: any of it is new work.

    own: the metal the part itself is of where it is one of the two, else None.
    """

    part: Part
    copper: str
    steel: str
    new: bool
    own: str | None


def meetings(facts: Facts) -> Iterator[Meeting]:
    """Every part at which copper pipe and galvanised steel come together, or that is of the other metal itself."""
    plan = facts.plan
    metals = {id_: tube.material for id_, tube in plan.tubes.items() if tube.material in (_COPPER, _STEEL)}
    bodies = {part.body for part in plan.parts.values()}
    if _STEEL not in metals.values() and "galvanised" not in bodies:
        return
    at = _pieces(plan, metals)
    for id_, pieces in at.items():
        found = _meeting(plan.parts[id_], pieces)
        if found is not None:
            yield found


def _pieces(plan: Plan, metals: Mapping[str, str | None]) -> dict[str, list[tuple[str, str, bool]]]:
    """For each part what of the two metals is joined to it: (metal, run or part, whether it is new)."""
    at: dict[str, list[tuple[str, str, bool]]] = {}
    for run in plan.runs.values():
        metal = metals.get(run.tube) if run.tube is not None else None
        if metal is not None and run.work != "removed":
            for id_ in _ends(run):
                at.setdefault(id_, []).append((metal, run.id, is_new(run)))
    for part in plan.parts.values():
        if part.onto is None or part.work == "removed":
            continue
        target = plan.parts[part.onto.part]
        own, there = _body(part), _body(target)
        if there is not None:
            at.setdefault(part.id, []).append((there, target.id, is_new(target)))
        elif own is not None:  # else the joint is told at the part that is made up
            at.setdefault(target.id, []).append((own, part.id, is_new(part)))
    return at


def _ends(run: Run) -> list[str]:
    return [ref.part for ref in (run.from_, run.to) if ref is not None]


def _body(part: Part) -> str | None:
    return {"copper": _COPPER, "galvanised": _STEEL}.get(part.body or "")


def _meeting(part: Part, pieces: list[tuple[str, str, bool]]) -> Meeting | None:
    if part.work == "removed" or KINDS[part.is_].sort in _NO_METAL:
        return None
    own = _body(part)
    first = {metal: name for metal, name, _ in reversed(pieces)}
    if own is not None:
        first.setdefault(own, part.id)
    if len(first) < 2:
        return None
    new = is_new(part) or any(fresh for _, _, fresh in pieces)
    return Meeting(part, first[_COPPER], first[_STEEL], new, own)
