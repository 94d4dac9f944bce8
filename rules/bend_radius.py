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

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    BACK,
    INCH_M,
    NONE,
    SLIGHT,
    Bend,
    Bends,
    Corner,
    Facts,
    Length,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Path,
    Rule,
    Run,
    Subject,
    Tube,
    Value,
    bent_runs,
    by_fitting,
    corners_of,
    holds,
    is_new,
    judge_hot,
    judge_kink,
    judge_radius,
    judge_room,
    judge_unheld,
    near_expansion_m,
    of_practice,
    on_site,
    printed,
)

_FLOOR = Value(6.0, printed("tube makers' manuals and inspectors' text on ASTM F876 tube", "", "minimum bend radius"))
_MANUAL = "a tube maker's manual"


def _practice(id_: str, title: str, unit: str, least: float, document: str, clause: str) -> Limit:
    return of_practice(id_, title, unit, "at least", least, printed(document, "", clause))


FLOOR = Limit(
    "floor",
    "least bend radius of PEX, in outside diameters",
    "outside diameters",
    "at least",
    irc=(_FLOOR,),
    ipc=(_FLOOR,),
    upc=(_FLOOR,),
    practice=(_FLOOR,),
)
STIFF = _practice(
    "stiff",
    "bend radius of the stiffer tubes (PEX-B, PEX-C, or type not said), in outside diameters",
    "outside diameters",
    8.0,
    "a tube maker's manual and a plumbing textbook",
    "bend radius of PEX-b and PEX-c",
)
_AGAINST = "how many times the radius a bend against the set of the coil needs"
AGAINST = _practice("against", _AGAINST, "times", 3.0, _MANUAL, "bending against the coil")
_HOT = "least radius of a bend formed hot, where the tube's maker allows it, in outside diameters"
HOT = _practice("hot", _HOT, "outside diameters", 2.5, "an inspectors' text", "hot bending")
_NEAR = "straight before an expansion fitting, else the bend is supported: "
SUPPORT_SMALL = _practice("support_small", _NEAR + "3/8 and 1/2", "length", 6 * INCH_M, _MANUAL, "expansion fittings")
SUPPORT_LARGE = _practice("support_large", _NEAR + "3/4 and 1", "length", 10 * INCH_M, _MANUAL, "expansion fittings")
RULE = Rule("correction", "layout", (FLOOR, STIFF, AGAINST, HOT, SUPPORT_SMALL, SUPPORT_LARGE))

_JUDGED = ("PEX-A", "PEX-B", "PEX-C", "PEX", "PE-RT")
_STIFF_TUBES = ("PEX-B", "PEX-C", "PEX")
_SMALL_M, _LARGE_M = (0.0, 0.017), (0.0205, 0.030)  # outside diameters of 3/8 and 1/2, of 3/4 and 1


class Kink(NamedTuple):
    """A kink noted along a run."""

    run: Run
    tube: Tube


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each turn of each PEX run and each entry of its bends; a run without either has one for all; each kink."""
    for bent in bent_runs(facts, _JUDGED):
        name, place = bent.run.id, bent.place
        for corner in corners_of(bent):
            if corner.number:
                path: Path = ("runs", name, "bends", corner.number - 1)
                yield Subject(path, f"bend {corner.number} of {name}", place, corner)
            else:
                yield Subject(("runs", name, "bends"), f"the bends of {name}", place, corner)
        for number, item in enumerate(bent.run.along or ()):
            if item.is_ == "kink":
                kink = Kink(bent.run, bent.tube)
                yield Subject(("runs", name, "along", number), f"kink in {name}", place, kink)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether one bend is wide enough and fits, or what becomes of a kink."""
    thing = subject.thing
    run: Run = thing.run if isinstance(thing, Kink) else thing.of.run
    if not is_new(run):
        return on_site("existing tube: look at its bends where they show")
    if isinstance(thing, Kink):
        return judge_kink(run, thing.tube)
    if thing.turn is None and thing.of.shape is not None:
        return _not_drawn(subject, thing, facts, limits)
    return _made_otherwise(thing) or _bent(subject, thing, facts, limits)


def _made_otherwise(corner: Corner) -> Outcome | None:
    """The answer on a turn that needs no radius: by a fitting, in a rigid bend support, or hardly a turn."""
    bend, turn = corner.bend, corner.turn
    if corner.number in corner.of.fittings or by_fitting(bend):
        return holds("turned by a fitting")
    if bend is not None and bend.support == "bend support":
        return holds("held in a rigid bend support")
    if turn is not None and turn.angle > BACK:
        raise NotShown(("runs", corner.of.run.id, "path"), "how wide it turns back: draw it with two corners")
    if turn is not None and turn.angle < SLIGHT and (bend is None or not isinstance(bend.radius, Length)):
        return holds("hardly a turn: tube sways so far of itself")
    return None


def _bent(subject: Subject, corner: Corner, facts: Facts, limits: Limits) -> Outcome:
    bend, radius = _said(corner)
    outcome = _radius(subject, corner, bend, radius, facts, limits)
    if outcome is not None:
        return outcome
    measured, estimate = Measured(radius.m, "length"), radius.text if radius.about else ""
    shape = corner.of.shape
    if corner.turn is None or shape is None:
        return holds(f"{radius.text}; whether the bends fit is not judged without a path", measured, None, estimate)
    outcome = judge_room(subject.name, corner, radius, facts)
    if outcome is None and bend.support in (None, NONE):
        outcome = _unheld(subject, corner, facts, limits)
    if shape.about and not estimate:
        estimate = f"the path of {corner.of.run.id}"
    return outcome or holds(f"{radius.text}, and it fits", measured, None, estimate)


def _said(corner: Corner) -> tuple[Bend, Length]:
    """How the turn is made and its radius. Raises NotShown where the plan does not say."""
    run, bend = corner.of.run, corner.bend
    if bend is not None and isinstance(bend.radius, Length):
        return bend, bend.radius
    path: Path = ("runs", run.id, "bends")
    if isinstance(run.bends, Bends) and run.bends.each is not None:
        path = (*path, corner.number - 1)
        if bend is None:
            raise NotShown(path, "how this turn is made: the path has more corners than the list has bends")
    raise NotShown(path if bend is None else (*path, "radius"), "the radius of the bends")


def _radius(
    subject: Subject, corner: Corner, bend: Bend, radius: Length, facts: Facts, limits: Limits
) -> Outcome | None:
    """Broken where the radius is too small for the tube, None where it will do."""
    if corner.of.outside_m is None:
        raise NotShown(("tubes", corner.of.tube.id, "outside"), "the tube's outside diameter")
    if bend.hot is True:
        return judge_hot(subject.name, corner, radius, limits.of(HOT), facts)
    times = limits.of(AGAINST).number if bend.against is True else 1.0
    stiff = corner.of.tube.material in _STIFF_TUBES
    wanted = (limits.of(FLOOR), limits.of(STIFF)) if stiff else (limits.of(FLOOR),)
    return judge_radius(subject.name, corner, radius, wanted, times, facts)


def _unheld(subject: Subject, corner: Corner, facts: Facts, limits: Limits) -> Outcome | None:
    """Broken where a bend that nothing holds begins too near an expansion fitting, by the size of the tube."""
    straight_m, outside_m = near_expansion_m(corner), corner.of.outside_m or 0.0
    if straight_m is None:
        return None
    for (low_m, high_m), limit in ((_SMALL_M, SUPPORT_SMALL), (_LARGE_M, SUPPORT_LARGE)):
        if low_m < outside_m < high_m:
            return judge_unheld(subject.name, straight_m, limits.of(limit), facts)
    return None


def _not_drawn(subject: Subject, corner: Corner, facts: Facts, limits: Limits) -> Outcome:
    """An entry of the list of bends beyond the corners of the path: too tight is too tight wherever it belongs."""
    bend, run = corner.bend, corner.of.run
    if bend is not None and isinstance(bend.radius, Length) and bend.support != "bend support":
        outcome = _radius(subject, corner, bend, bend.radius, facts, limits)
        if outcome is not None:
            return outcome
    drawn = len(corner.of.made)
    raise NotShown(("runs", run.id, "path"), f"where its bend {corner.number} is: the path turns {drawn} times")
