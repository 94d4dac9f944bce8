"""Joints where nobody gets at them: couplings and ells along runs and parts between them, hidden or in slab or ground."""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.answers import fished_at, tube_of
from plancheck.facts import Facts
from plancheck.kinds import KINDS
from plancheck.measures import Length
from plancheck.model import NOT_KNOWN, Along, Part, Path, Run, Tube
from plancheck.record import NamedTuple

IN_WALL, IN_SLAB, IN_GROUND, PERHAPS = "hidden", "in the slab", "in the ground", "perhaps in the slab"
_THICK_M = 4 * 0.0254  # of a slab: what lies so near the lowest of a path that dips into one is in it
_ENDS = ("cap", "test port", "arrestor", "expansion tank", "stub-out")


class Joint(NamedTuple):
    """One hidden thing. where: one of the words above; made: its joints as (how or None, tube, key that says it).

    hidden: as it is said; key: where `hidden` or `at` would stand; fished: drawn through closed framing there.
    """

    name: str
    path: Path
    place: str | None
    where: str
    made: tuple[tuple[str | None, Tube | None, Path], ...]
    new: bool
    fished: bool
    doubt: Path | None


def hidden_joints(facts: Facts) -> Iterator[Joint]:
    """Every such joint of the plan, those of runs first."""
    for run in facts.plan.runs.values():
        if run.along and run.work != "removed":
            yield from _along(run, facts)
    wet = {id_ for id_, place in facts.plan.places.items() if place.is_ in ("slab", "ground")}
    parts = [part for part in facts.plan.parts.values() if _counts(part, wet)]
    if not parts:
        return
    at: dict[str, list[Run]] = {}
    for run in facts.plan.runs.values():
        for ref in (run.from_, run.to):
            if ref is not None and run.work != "removed":
                at.setdefault(ref.part, []).append(run)
    for part in parts:
        yield _of_part(part, at.get(part.id, []), facts)


def _counts(part: Part, wet: set[str]) -> bool:
    """Valves belong to the rule on shutoffs; a fixture or a heater is no joint."""
    if part.work == "removed" or part.is_ == "valve" or KINDS[part.is_].sort in ("fixture", "supply", "heater"):
        return False
    if part.is_ in _ENDS and part.hidden is not True:
        return False
    return part.hidden in (True, NOT_KNOWN) or part.place in wet


def _of_part(part: Part, runs: list[Run], facts: Facts) -> Joint:
    made: list[tuple[str | None, Tube | None, Path]] = []
    for run in runs:
        path: Path = ("runs", run.id, "joint")
        for ref, key in ((run.from_, "from_"), (run.to, "to")):
            if ref is not None and ref.part == part.id:
                made.append(
                    (getattr(run.joint, key) if run.joint is not None else None, tube_of(run, facts.plan), path)
                )
    place = facts.plan.places.get(part.place or "")
    where = {"slab": IN_SLAB, "ground": IN_GROUND}.get(place.is_ if place is not None else "", IN_WALL)
    doubt = ("parts", part.id, "hidden") if where == IN_WALL and part.hidden == NOT_KNOWN else None
    new = part.work != "existing"
    path = ("parts", part.id)
    return Joint(facts.part_name(part.id), path, part.place, where, tuple(made), new, False, doubt)


def _along(run: Run, facts: Facts) -> Iterator[Joint]:
    tube = tube_of(run, facts.plan)
    path: Path = ("runs", run.id, "joint")
    words = dict.fromkeys((run.joint.from_, run.joint.to)) if run.joint is not None else {None: None}
    made = tuple((word, tube, path) for word in words)
    for number, one in enumerate(run.along or ()):
        if one.is_ not in ("coupling", "ell"):
            continue
        here: Path = ("runs", run.id, "along", number)
        where = _where(run, one, facts)
        if where is None:
            continue
        doubt: Path | None = (*here, "at") if where == PERHAPS else None
        if where == IN_WALL and one.hidden == NOT_KNOWN:
            doubt = (*here, "hidden")
        at = f" at {one.at.text}" if isinstance(one.at, Length) else ""
        name = f"the {one.is_} of {run.id}{at}"
        fished = fished_at(run, one.at)
        yield Joint(name, here, facts.run_place(run.id), where, made, run.work != "existing", fished, doubt)


def _where(run: Run, one: Along, facts: Facts) -> str | None:
    """Where a coupling lies, None where anybody gets at it."""
    kinds = [facts.plan.places[place].is_ for place in facts.run_places(run.id)]
    below = [kind for kind in kinds if kind in ("slab", "ground")]
    if below:
        word = IN_SLAB if "slab" in below else IN_GROUND
        dips = True if len(below) == len(kinds) else _dips(run, one, facts)
        if dips is None:
            return PERHAPS if word == IN_SLAB else IN_GROUND
        if dips:
            return word
    return IN_WALL if one.hidden in (True, NOT_KNOWN) else None


def _dips(run: Run, one: Along, facts: Facts) -> bool | None:
    """Whether a distance along a run lies on the lowest part of its path; None where path or distance is not said."""
    shape = facts.geometry.shapes.get(run.id)
    if shape is None or not isinstance(one.at, Length):
        return None
    from plancheck.geometry import at_distance

    lowest = min(corner[2] for corner in shape.corners)
    return at_distance(shape, one.at.m)[2] - lowest < _THICK_M
