"""Where runs of plastic tube turn, how each turn is made and how much straight it takes. Metres and radians.

A bend of radius R that turns by an angle takes R tan(angle / 2) of each of the two legs that meet there (elementary
geometry: the tangent length of a circular arc). A leg between two corners is shared by both.
"""

import math
from collections.abc import Collection, Iterator, Sequence
from itertools import pairwise

from plancheck.facts import Facts
from plancheck.geometry.shape import Shape, Turn
from plancheck.measures import Length
from plancheck.model import NONE, NOT_KNOWN, Bend, Bends, PathPoint, Run, Tube
from plancheck.record import NamedTuple
from plancheck.tubedata import tube_outside_m

BACK = math.radians(175)  # a turn of more goes back on itself: the path leaves out how wide it is

_ELL_NEAR_M = 0.15  # an ell noted along the run turns its nearest corner, if that is no further off
_NONE_SO: frozenset[int] = frozenset()
_EXPANSION = ("expansion ring", "expansion sleeve")


class Bent(NamedTuple):
    """A run of tube that may be bent.

    taken_m: what each turn of its path takes of the legs beside it, 0 where a fitting or a rigid bend support makes it or
    its radius is not said. made: how each turn is made. fittings: the numbers of the turns that a fitting makes. place: the
    place it ends in. outside_m: the outside diameter of the tube, None where it is not known.
    """

    run: Run
    tube: Tube
    outside_m: float | None
    shape: Shape | None
    place: str | None
    made: tuple[Bend | None, ...] = ()
    taken_m: tuple[float, ...] = ()
    fittings: frozenset[int] = frozenset()


class Corner(NamedTuple):
    """One turn of a run, numbered from 1, or all of them (0). turn: None where no path shows it; bend: how it is made."""

    of: Bent
    number: int
    bend: Bend | None
    turn: Turn | None = None


class Lack(NamedTuple):
    """A leg that is too short: on which side of the corner, its length, what this bend and the next one take of it."""

    side: str
    leg_m: float
    mine_m: float
    other_m: float


def bent_runs(facts: Facts, materials: Collection[str]) -> Iterator[Bent]:
    """The runs of tube of some materials, removed ones and connectors left out."""
    shapes, plan = facts.geometry.shapes, facts.plan
    tubes = {tube.id: tube for tube in plan.tubes.values() if tube.material in materials and tube.form != "connector"}
    outside_m = {name: tube_outside_m(tube) for name, tube in tubes.items()}
    for run in plan.runs.values():
        tube = tubes.get(run.tube) if run.tube is not None else None
        if tube is None or run.work == "removed":
            continue
        shape = shapes.get(run.id)
        if shape is not None and not shape.turns and not run.along and not _listed(run):
            continue  # a straight run
        places = facts.run_places(run.id)
        yield bent(run, tube, outside_m[tube.id], shape, places[-1] if places else None)


def bent(run: Run, tube: Tube, outside_m: float | None, shape: Shape | None, place: str | None = None) -> Bent:
    """A run with how its turns are made and what they take."""
    if shape is None or not shape.turns:
        return Bent(run, tube, outside_m, shape, place)
    turns = shape.turns
    made = _made(run, len(turns))
    fittings = turned_by_fittings(run, turns, made) if run.along or _listed(run) or by_fitting(made[0]) else _NONE_SO
    taken = [_taken_m(bend, turn.angle) for bend, turn in zip(made, turns, strict=True)]
    for number in fittings:
        taken[number - 1] = 0.0
    return Bent(run, tube, outside_m, shape, place, made, tuple(taken), fittings)


def _listed(run: Run) -> bool:
    return type(run.bends) is Bends and run.bends.each is not None


def _made(run: Run, number: int) -> tuple[Bend | None, ...]:
    """How each of so many turns is made; None where the plan does not say."""
    bends = run.bends
    if type(bends) is not Bends:
        return (None,) * number
    if bends.each is None:
        return (bends.all,) * number
    return (*bends.each[:number], *(None,) * (number - len(bends.each)))


def _taken_m(bend: Bend | None, angle: float) -> float:
    if bend is None or bend.support == "bend support" or type(bend.radius) is not Length:
        return 0.0
    return tangent_m(bend.radius.m, angle)


def tangent_m(radius_m: float, angle: float) -> float:
    """The straight that a bend takes of each leg: R tan(half the turn); of one that goes back on itself, as at BACK."""
    return radius_m * math.tan(min(angle, BACK) / 2)


def turned_by_fittings(run: Run, turns: Sequence[Turn], made: Sequence[Bend | None]) -> frozenset[int]:
    """The numbers of the turns made by fittings: said of the bend, or an ell noted along the run nearest to the corner."""
    found = {number for number, bend in enumerate(made, 1) if by_fitting(bend)}
    for one in run.along or ():
        if one.is_ == "ell" and isinstance(one.at, Length):
            at_m = one.at.m
            nearest = min(turns, key=lambda turn: abs(turn.at_m - at_m))
            if abs(nearest.at_m - at_m) <= _ELL_NEAR_M:
                found.add(nearest.number)
    return frozenset(found) if found else _NONE_SO


def by_fitting(bend: Bend | None) -> bool:
    """Whether the plan says that a fitting makes the bend."""
    return bend is not None and bend.fitting is not None and bend.fitting not in (NONE, NOT_KNOWN)


def corners_of(bent: Bent) -> Iterator[Corner]:
    """The turns of the path, and entries of the list of bends beyond them; without a path each entry, or all as one."""
    run, shape = bent.run, bent.shape
    bends = run.bends if isinstance(run.bends, Bends) else None
    drawn = len(shape.turns) if shape is not None else 0
    if shape is not None:
        for turn in shape.turns:
            yield Corner(bent, turn.number, bent.made[turn.number - 1], turn)
    if bends is not None and bends.each is not None:
        for number in range(drawn + 1, len(bends.each) + 1):
            yield Corner(bent, number, bends.each[number - 1])
    elif shape is None and run.bends != NONE and (bends is None or bends.count_ != 0):
        yield Corner(bent, 0, bends.all if bends is not None else None)


def lacking(corner: Corner, grace_m: float) -> Lack | None:
    """The leg beside a corner that lacks most of the straight its bends take, or None where both are long enough."""
    turn, taken = corner.turn, corner.of.taken_m
    if turn is None:
        return None
    number = turn.number
    mine_m = taken[number - 1]
    before_m = taken[number - 2] if number > 1 else 0.0
    after_m = taken[number] if number < len(taken) else 0.0
    short_before, short_after = mine_m + before_m - turn.before_m, mine_m + after_m - turn.after_m
    if max(short_before, short_after) <= grace_m + 1e-12:
        return None
    if short_after >= short_before:
        return Lack("after", turn.after_m, mine_m, after_m)
    return Lack("before", turn.before_m, mine_m, before_m)


def leg_of(corner: Corner, side: str) -> int | None:
    """The item of the path that is the leg before or after a corner, counted from 0; None where no path shows it."""
    shape, path = corner.of.shape, corner.of.run.path
    if shape is None or corner.turn is None or not path:
        return None
    first = 1 if isinstance(path[0], PathPoint) else 0
    along_m, before = 0.0, 0
    for item, (a, b) in enumerate(pairwise(shape.corners), first):
        size_m = math.dist(a, b)
        if size_m and along_m >= corner.turn.at_m - 1e-9:
            return item if side == "after" else before
        along_m += size_m
        before = item if size_m else before
    return before


def near_expansion_m(corner: Corner) -> float | None:
    """The straight between a bend and the nearest expansion fitting at an end or along its run; None without one."""
    run, shape, turn = corner.of.run, corner.of.shape, corner.turn
    if run.joint is None or shape is None or turn is None:
        return None
    found = [0.0] if run.joint.from_ in _EXPANSION else []
    found += [shape.length_m] if run.joint.to in _EXPANSION else []
    if len(found) == 2:
        found += [one.at.m for one in run.along or () if one.is_ in ("coupling", "ell") and isinstance(one.at, Length)]
    if not found:
        return None
    return min(abs(one - turn.at_m) for one in found) - corner.of.taken_m[turn.number - 1]
