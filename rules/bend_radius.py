"""Bends are wide enough for the tube, and fit between their neighbours

Looks at: every turn of new PEX tube. Its radius against the outside diameter and the type of tube, more against the set
    of the coil; a turn by a fitting or in a rigid bend support holds. Whether the bend fits: a corner with radius R needs
    R times the tangent of half the turn of straight on both legs, shared with the next corner. Kinks noted in the plan.
Why: a bend that is too tight flattens or kinks the tube, loads the joint beside it and is where it lets go years later.
    The longer radius costs nothing while the wall is open.
To mend: sweep the bend wider, move the corner, or turn with an ell or a rigid bend support.
Cannot see: whether the tube was kinked and straightened again, how it lay on the coil, or a bend the plan does not draw.
    Polyethylene service pipe has its own, much larger radius; copper and CPVC turn with fittings; neither is judged here.
Ask: the tube maker's sheet gives the radius of this tube, hot forming and whether a kink may be re-formed.
"""

import math
from collections.abc import Iterator
from typing import NamedTuple

from plancheck.rulekit import (
    GRACE_LENGTH_M,
    Bend,
    Bends,
    Facts,
    InForce,
    Length,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Path,
    Rule,
    Run,
    Shape,
    Subject,
    Tube,
    Turn,
    Value,
    at_least,
    broken,
    estimates,
    holds,
    is_new,
    on_site,
    printed,
    tube_of,
    tube_outside_m,
)

_FLOOR_SOURCE = printed("tube makers' manuals and inspectors' text on ASTM F876 tube", "", "minimum bend radius")
_STIFF_SOURCE = printed("a tube maker's manual and a plumbing textbook", "", "bend radius of PEX-b and PEX-c")

FLOOR = Limit(
    "floor",
    "least bend radius of PEX, in outside diameters",
    "outside diameters",
    "at least",
    irc=(Value(6.0, _FLOOR_SOURCE),),
    ipc=(Value(6.0, _FLOOR_SOURCE),),
    upc=(Value(6.0, _FLOOR_SOURCE),),
    practice=(Value(6.0, _FLOOR_SOURCE),),
)
STIFF = Limit(
    "stiff",
    "bend radius of the stiffer tubes (PEX-B, PEX-C, or type not said), in outside diameters",
    "outside diameters",
    "at least",
    practice=(Value(8.0, _STIFF_SOURCE, practice=True),),
)
AGAINST = Limit(
    "against",
    "how many times the radius a bend against the set of the coil needs",
    "times",
    "at least",
    practice=(Value(3.0, printed("a tube maker's manual", "", "bending against the coil"), practice=True),),
)
SUPPORT_SMALL = Limit(
    "support_small",
    "straight before an expansion fitting, else the bend is supported: 3/8 and 1/2",
    "length",
    "at least",
    practice=(Value(6 * 0.0254, printed("a tube maker's manual", "", "expansion fittings"), practice=True),),
)
SUPPORT_LARGE = Limit(
    "support_large",
    "straight before an expansion fitting, else the bend is supported: 3/4 and 1",
    "length",
    "at least",
    practice=(Value(10 * 0.0254, printed("a tube maker's manual", "", "expansion fittings"), practice=True),),
)
RULE = Rule(highest="correction", stage="layout", limits=(FLOOR, STIFF, AGAINST, SUPPORT_SMALL, SUPPORT_LARGE))

_JUDGED = ("PEX-A", "PEX-B", "PEX-C", "PEX", "PE-RT")
_STIFF_TUBES = ("PEX-B", "PEX-C", "PEX")
_NEAR_FITTING_M = 0.15  # a fitting noted along the run this near a corner is the corner's


class Corner(NamedTuple):
    """One turn of a run, or all of a run without a path (turn None). first and last: it is the run's first or last."""

    run: Run
    tube: Tube
    bend: Bend | None
    turn: Turn | None
    shape: Shape | None
    path: Path


class Kink(NamedTuple):
    """A kink noted along a run."""

    run: Run
    tube: Tube


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each turn of each new PEX run; a run without a path has one subject for all its bends; each kink."""
    for run in facts.plan.runs.values():
        tube = tube_of(run, facts.plan)
        if tube is None or tube.material not in _JUDGED or run.work == "removed" or tube.form == "connector":
            continue
        place = (facts.run_places(run.id) or (None,))[-1]
        shape = facts.geometry.shapes.get(run.id)
        listed = isinstance(run.bends, Bends) and run.bends.each is not None
        if shape is not None:
            for turn in shape.turns:
                path: Path = ("runs", run.id, "bends", turn.number - 1) if listed else ("runs", run.id, "bends")
                thing = Corner(run, tube, _bend(run, turn.number), turn, shape, path)
                yield Subject(("runs", run.id, "bends", turn.number - 1), f"bend {turn.number} of {run.id}", place, thing)
        elif not _no_bends(run):
            thing = Corner(run, tube, _bend(run, 1), None, None, ("runs", run.id, "bends"))
            yield Subject(("runs", run.id, "bends"), f"the bends of {run.id}", place, thing)
        for number, item in enumerate(run.along or ()):
            if item.is_ == "kink":
                yield Subject(("runs", run.id, "along", number), f"kink in {run.id}", place, Kink(run, tube))


def _bend(run: Run, number: int) -> Bend | None:
    if not isinstance(run.bends, Bends):
        return None
    if run.bends.each is not None:
        return run.bends.each[number - 1] if number <= len(run.bends.each) else None
    return run.bends.all


def _no_bends(run: Run) -> bool:
    return run.bends == "none" or (isinstance(run.bends, Bends) and run.bends.count_ == 0)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether one bend is wide enough and fits, or what becomes of a kink."""
    if not is_new(subject.thing.run):
        return on_site("existing tube: look at its bends where they show")
    if isinstance(subject.thing, Kink):
        return _kink(subject.thing)
    return _corner(subject, subject.thing, facts, limits)


def _kink(kink: Kink) -> Outcome:
    if kink.tube.material == "PEX-A":
        return on_site("a kink in PEX-A may be re-formed with hot air, never a flame, if the tube's maker says so")
    return broken(
        f"{kink.run.id} is kinked; {kink.tube.material} does not take its shape back.",
        "correction",
        found="a kink left in the tube",
        needed="round tube: a kinked piece of this type is cut out (a tube maker's manual, read)",
        mend="Cut the kink out and join with a coupling where one can get at it, or pull a new length.",
    )


def _corner(subject: Subject, corner: Corner, facts: Facts, limits: Limits) -> Outcome:
    bend, run = corner.bend, corner.run
    if _turned_by_fitting(corner):
        return holds("turned by a fitting")
    if bend is not None and bend.support == "bend support":
        return holds("held in a rigid bend support")
    if bend is None or not isinstance(bend.radius, Length):
        raise NotShown(corner.path if bend is None else (*corner.path, "radius"), "the radius of the bends")
    outside = tube_outside_m(corner.tube)
    if outside is None:
        raise NotShown(("tubes", corner.tube.id, "outside"), "the tube's outside diameter")
    if bend.hot is True:
        return _hot_formed(corner.tube, bend.radius, outside)
    outcome = _radius(subject, corner, bend, outside, facts, limits)
    if outcome is not None:
        return outcome
    if corner.turn is not None and corner.shape is not None:
        return _fits(subject, corner, bend.radius, facts, limits)
    rough = f"{bend.radius.m / outside:.3g} outside diameters; whether the bends fit is not judged without a path"
    return holds(rough, Measured(bend.radius.m, "length"), None, estimates(bend.radius)) if run else holds(rough)


def _turned_by_fitting(corner: Corner) -> bool:
    if corner.bend is not None and corner.bend.fitting not in (None, "none", "not known"):
        return True
    return corner.turn is not None and any(
        item.is_ == "ell" and isinstance(item.at, Length) and abs(item.at.m - corner.turn.at_m) <= _NEAR_FITTING_M
        for item in corner.run.along or ()
    )


def _hot_formed(tube: Tube, radius: Length, outside: float) -> Outcome:
    if tube.material == "PEX-A":
        return on_site(f"hot-formed at {radius.text}: only as the tube's maker says, with hot air and no flame")
    return broken(
        f"{tube.material} is formed hot at {radius.text}; makers allow that for PEX-A at most.",
        "advice",
        found=f"hot-formed, {radius.m / outside:.2g} outside diameters",
        needed="a cold bend, a fitting or a rigid bend support",
    )


def _radius(
    subject: Subject, corner: Corner, bend: Bend, outside: float, facts: Facts, limits: Limits
) -> Outcome | None:
    """Broken where the radius is too small for the tube, None where it will do."""
    radius = bend.radius
    if not isinstance(radius, Length):
        return None
    times = limits.of(AGAINST).number if bend.against is True else 1.0
    wanted = [limits.of(FLOOR)]
    if corner.tube.material in _STIFF_TUBES:
        wanted.append(limits.of(STIFF))
    for limit in wanted:
        least = limit.number * times * outside
        if not at_least(radius.m, least, GRACE_LENGTH_M):
            return _too_tight(subject, corner, radius, least, limit, times, facts)
    return None


def _too_tight(
    subject: Subject, corner: Corner, radius: Length, least: float, limit: InForce, times: float, facts: Facts
) -> Outcome:
    coil = " against the set of the coil" if times > 1 else ""
    needed = facts.length(least)
    return broken(
        f"{subject.name} has a radius of {facts.length(radius.m)}{coil}; this {corner.tube.material} wants {needed}.",
        "correction" if limit.limit is FLOOR else "advice",
        measured=Measured(radius.m, "length"),
        limit=limit,
        found=facts.length(radius.m),
        needed=f"at least {needed} ({limit.number * times:g} outside diameters{coil})",
        mend=f"Sweep it at {needed} or more, or turn there with an ell or a rigid bend support.",
        cause=_first_of_all(corner),
        estimate=estimates(radius),
    )


def _first_of_all(corner: Corner) -> Path | None:
    """Where one key says how all bends of a run are made, the first bend speaks and the others follow."""
    if corner.turn is None or corner.turn.number == 1 or not isinstance(corner.run.bends, Bends):
        return None
    first = corner._replace(turn=corner.shape.turns[0]) if corner.shape is not None else corner
    return ("runs", corner.run.id, "bends", 0) if corner.run.bends.each is None and not _turned_by_fitting(first) else None


def _fits(subject: Subject, corner: Corner, radius: Length, facts: Facts, limits: Limits) -> Outcome:
    turn, shape = corner.turn, corner.shape
    if turn is None or shape is None:
        return holds()
    mine = _tangent(radius.m, turn)
    for side, leg, other in _legs(corner, turn, shape):
        if not at_least(leg, mine + other, GRACE_LENGTH_M):
            shared = f" together with the bend next to it ({facts.length(other)})" if other else ""
            return broken(
                f"{subject.name} at {facts.length(radius.m)} does not fit: the leg {side} it is {facts.length(leg)}.",
                "advice",
                measured=Measured(leg, "length"),
                found=f"{facts.length(leg)} of straight {side} the corner",
                needed=f"{facts.length(mine)} for this bend{shared}",
                mend=f"Move the corner by {facts.length(mine + other - leg)}, or turn there with an ell or bend support.",
                at=("runs", corner.run.id, "path", turn.number),
                estimate=estimates(radius),
            )
    return _unsupported(subject, corner, mine, facts, limits) or holds(
        f"radius {radius.text}, and it fits", Measured(radius.m, "length"), None, estimates(radius)
    )


def _tangent(radius_m: float, turn: Turn) -> float:
    """The straight a bend takes from each leg: R tan(half the turn)."""
    return radius_m * math.tan(min(turn.angle, math.pi - 1e-6) / 2)


def _legs(corner: Corner, turn: Turn, shape: Shape) -> tuple[tuple[str, float, float], ...]:
    """Both legs of a corner: which side, its length, and what the neighbouring bend takes of it."""
    return (
        ("before", turn.before_m, _taken(corner, shape, turn.number - 1)),
        ("after", turn.after_m, _taken(corner, shape, turn.number + 1)),
    )


def _taken(corner: Corner, shape: Shape, number: int) -> float:
    if not 1 <= number <= len(shape.turns):
        return 0.0
    other = corner._replace(bend=_bend(corner.run, number), turn=shape.turns[number - 1])
    if other.bend is None or not isinstance(other.bend.radius, Length) or _turned_by_fitting(other):
        return 0.0
    if other.bend.support == "bend support" or other.turn is None:
        return 0.0
    return _tangent(other.bend.radius.m, other.turn)


def _unsupported(
    subject: Subject, corner: Corner, tangent: float, facts: Facts, limits: Limits
) -> Outcome | None:
    """One maker's word on expansion fittings: a bend that begins near one is held."""
    turn, shape, run = corner.turn, corner.shape, corner.run
    if turn is None or shape is None or run.joint is None or (corner.bend and corner.bend.support not in (None, "none")):
        return None
    small = (tube_outside_m(corner.tube) or 1) < 0.017
    limit = limits.of(SUPPORT_SMALL if small else SUPPORT_LARGE)
    ends = ((run.joint.from_, turn.at_m), (run.joint.to, shape.length_m - turn.at_m))
    for joint, distance in ends:
        straight = distance - tangent
        if joint in ("expansion ring", "expansion sleeve") and not at_least(straight, limit.number, GRACE_LENGTH_M):
            return broken(
                f"{subject.name} begins {facts.length(max(straight, 0))} from an expansion fitting and nothing holds it.",
                "advice",
                measured=Measured(straight, "length"),
                limit=limit,
                needed=f"a support at the bend, or {facts.length(limit.number)} of straight before it",
                mend="Strap the tube on both sides of the bend, or set a rigid bend support.",
            )
    return None
