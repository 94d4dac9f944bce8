"""Plastic keeps away from flues, recessed lights and other hot things

Looks at: the straight distance from each run of plastic, and from each manifold made of plastic tube whose position is
    known, to each hot thing of the plan (flue, vent, recessed light ...): 6 in beside it, 12 in above it. Above is where
    the tube passes higher within those 6 in as seen from above, all else is beside. Measured from centre line to centre
    line, less half of either diameter as far as the plan gives them; where no path measures it, the distance that the
    plan declares (clear). A plan that does not say what hot things there are does not show it.
Why: hot metal and lamps dry and soften plastic within a few seasons, heat rises to what lies above, and nobody sees it
    behind the board.
To mend: move the run, or use metal pipe on that stretch.
Cannot see: heat shields, how hot a thing gets, hot things the plan does not name. A light made to be covered by
    insulation may be cool enough: a person reads that on its label.
Ask: the tube maker's instructions (one maker keeps 12 in from recessed lights on every side). No model code carries
    these distances. What a vent itself must keep from wood is its own listing and another trade.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GRACE_LENGTH_M,
    NOT_KNOWN,
    VENTS,
    Facts,
    Hot,
    InForce,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Piece,
    Rule,
    Run,
    Seat,
    Subject,
    Value,
    at_least,
    boxes_apart,
    broken,
    estimates,
    holds,
    is_new,
    length,
    nearest,
    on_site,
    pieces_of,
    printed,
    seat_of,
    too_near,
)  # fmt: skip

if TYPE_CHECKING:
    from plancheck.besideheat import Pair

_INCH = 0.0254
_SOURCE = printed("PEX design guide and IAPMO IS 31, as inspectors quote them", "2006", "lights, vents, appliances")
_6_IN, _12_IN = Value(6 * _INCH, _SOURCE, practice=True), Value(12 * _INCH, _SOURCE, practice=True)
BESIDE = Limit("beside", "plastic tube beside a hot thing", "length", "at least", practice=(_6_IN,))
ABOVE = Limit("above", "plastic tube above a hot thing", "length", "at least", practice=(_12_IN,))
RULE = Rule(highest="correction", stage="layout", limits=(BESIDE, ABOVE))

_ASTRAY_M = 24 * _INCH  # further off is no estimated path, and no tube in closed framing
_NOWHERE_NEAR_M = 10 * 12 * _INCH  # no limit and no thing reaches as far
_ODD_M = 6 * _INCH  # by so much a declared distance may differ from a measured one
_LISTED = "The tube maker's instructions. A double-wall vent may be listed for 1 in to wood; plastic keeps further off."
_LABEL = "a light made to be covered by insulation: read its label, and keep the tube off its housing"
_OLD = "old plastic tube near it: look how it has kept"
_DIFFER = "its paths and the distance the plan declares (clear) differ: measure which is right"
_FISHED = "tube drawn through closed framing near it: nobody sees how far off it lies"


class Near(NamedTuple):
    """Where it comes too near: how far off, on which side, at what distance along it where that is measured; the words
    in which the plan declares it."""

    m: float
    limit: InForce
    along_m: float | None
    estimate: str
    text: str = ""


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each plastic thing with each hot thing it is measured or declared against; else the hot thing, with those left.

    A plan with plastic that names no hot things yields one subject for all.
    """
    from plancheck.besideheat import Pair, tubings_of

    plan = facts.plan
    tubings = tubings_of(facts)
    if tubings and not plan.heat:
        yield Subject(("heat",), "hot things near the tube", None, facts.source.data.get("heat"))
    for hot in plan.heat.values() if tubings else ():
        seat = seat_of(hot, plan.places)
        loose, paired = [], False
        for tubing in tubings:
            thing = tubing.thing
            declared = (thing.clear or {}).get(hot.id, ()) if isinstance(thing, Run) else ()
            if declared or (seat.box is not None and tubing.box is not None):
                paired = True
                place = hot.place or next(iter(tubing.places), None)
                yield Subject(tubing.path, f"{thing.id} and {hot.title}", place, Pair(tubing, seat, declared))
            elif isinstance(thing, Run) and hot.place in (None, *(tubing.places or (hot.place,))):
                loose.append(thing)
        if not paired or (loose and (hot.place is not None or seat.box is not None)):
            yield Subject(("heat", hot.id), hot.title, hot.place, (seat, loose))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the run keeps its distance."""
    from plancheck.besideheat import Pair

    if subject.path == ("heat",):
        return _nothing_named(subject.thing)
    if not isinstance(subject.thing, Pair):
        return _unmeasured(*subject.thing)
    pair: Pair = subject.thing
    mine, theirs = pair.tubing.box, pair.seat.box
    if mine is not None and theirs is not None:
        far = not pair.declared and boxes_apart(mine, theirs, _NOWHERE_NEAR_M)
        return holds("far enough") if far else _measured(pair, mine, theirs, facts, limits)
    near = _by_word(pair, limits)
    if near is not None:
        return _too_near(pair, near, ", as declared", facts, limits)
    return holds("as declared", None, None, estimates(*(clear.distance for clear in pair.declared)))


def _nothing_named(said: object) -> Outcome:
    if said is None or said == NOT_KNOWN:
        raise NotShown(("heat",), "what hot things, flues and recessed lights there are near the tube, or heat: none")
    return holds("the plan says that there are none")


def _unmeasured(seat: Seat, runs: list[Run]) -> Outcome:
    new, hot = [run.id for run in runs if is_new(run)], seat.hot
    if not runs and (hot.is_ not in VENTS or seat.box is not None):
        return holds("no plastic tube goes where it is")
    if (runs and not new) or _covered(hot):
        return on_site(_LABEL if _covered(hot) else _OLD)
    names = ", ".join(new[:4]) + (f" and {len(new) - 4} more" if len(new) > 4 else "")
    many = "s" if len(new) == 1 else ""
    if seat.box is None:
        raise NotShown(
            seat.needs, f"where {hot.title} is" + (f", or how far off it {names} keep{many} (clear)" if new else "")
        )
    raise NotShown(("runs", new[0], "clear", hot.id), f"how far off {hot.title} {names} keep{many} (clear)")


def _covered(hot: Hot) -> bool:
    return hot.is_ == "recessed light" and hot.insulation_contact is True


def _by_word(pair: Pair, limits: Limits) -> Near | None:
    """The declared distance that falls short most, or None."""
    found = []
    for clear in pair.declared:
        limit = limits.of(ABOVE if clear.side == "above" else BESIDE)
        if not at_least(clear.distance.m, limit.number, GRACE_LENGTH_M):
            found.append(Near(clear.distance.m, limit, None, estimates(clear.distance), clear.distance.text))
    return max(found, key=lambda near: near.limit.number - near.m, default=None)


def _measured(pair: Pair, mine: Piece, theirs: Piece, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.besideheat import laid_and_fished, thickness

    tubing, seat = pair.tubing, pair.seat
    beside, above = limits.of(BESIDE), limits.of(ABOVE)
    keep_m = (beside.number - GRACE_LENGTH_M, above.number - GRACE_LENGTH_M)
    less_m, open_m, key = thickness(pair)
    far_m = less_m + open_m + _ASTRAY_M
    if boxes_apart(mine, theirs, sum(keep_m) + far_m + tubing.open_m):
        return _against_word(pair, limits, less_m)
    seen, hidden = laid_and_fished(tubing)
    about = seat.about or tubing.about
    short = too_near(seen, seat.pieces, less_m, *keep_m)
    if short is not None:
        near = Near(short.m, above if short.above else beside, short.along_m, about)
        return _too_near(pair, near, ", to the middle where no diameter is said" if open_m else "", facts, limits)
    thick = open_m > 0 and too_near(seen, seat.pieces, less_m + open_m, *keep_m) is not None
    vague = about != "" and too_near(seen, seat.pieces, far_m, *keep_m) is not None
    if ((thick or vague) and _excuse(pair)) or too_near(hidden, seat.pieces, far_m, *keep_m) is not None:
        return on_site(_excuse(pair) or _FISHED)
    if (
        not thick
        and tubing.open_m
        and too_near(seen, seat.pieces, less_m + open_m + tubing.open_m, *keep_m) is not None
    ):
        raise NotShown((*tubing.path, "row"), "which way its ports go from where it is")
    if thick:
        raise NotShown(key, "how thick it is: distances count from surface to surface")
    return holds("", None, None, about) if vague else _against_word(pair, limits, less_m)


def _against_word(pair: Pair, limits: Limits, less_m: float) -> Outcome:
    """The paths keep the distance. A declared one that falls short and is clearly another has to be measured."""
    near = _by_word(pair, limits)
    if near is not None:
        pieces = pieces_of(pair.tubing.line)
        apart_m = min(nearest(one.piece, other.piece).m for one in pieces for other in pair.seat.pieces) - less_m
        if apart_m - near.m > _ODD_M:
            return on_site(_DIFFER)
    return holds("far enough")


def _excuse(pair: Pair) -> str:
    """Why only a person on site can tell where the tube comes near."""
    return _LABEL if _covered(pair.seat.hot) else "" if is_new(pair.tubing.thing) else _OLD


def _too_near(pair: Pair, near: Near, note: str, facts: Facts, limits: Limits) -> Outcome:
    if _excuse(pair):
        return on_site(_excuse(pair))
    hot, limit, side = pair.seat.hot, near.limit, near.limit.limit.id
    found, needed, more = limit.told_apart(max(near.m, 0.0), facts.units, near.text)
    if near.m < 0:
        more = facts.length(limit.number - near.m)
    measured = near.along_m is not None
    where = (
        f", {facts.length(near.along_m or 0.0)} from its start"
        if measured and isinstance(pair.tubing.thing, Run)
        else ""
    )
    aside = f" or {facts.length(limits.of(BESIDE).number)} clear to the side" if side == "above" else ""
    odd = [clear.distance.text for clear in pair.declared if measured and abs(clear.distance.m - near.m) > _ODD_M]
    return broken(
        f"{pair.tubing.thing.id} runs {found} {side} {hot.title} ({hot.is_}){note}; at least {needed}.",
        "correction",
        measured=length(max(near.m, 0.0)),
        limit=limit,
        found=f"{found} {side} it" + (f"; the plan declares {odd[0]}, its paths say otherwise" if odd else ""),
        needed=f"at least {needed} {side} it, surface to surface",
        mend=f"Move it {more} further away{aside}{where}, or use metal pipe on that stretch.",
        ask=_LISTED if hot.is_ == "double-wall vent" else "",
        estimate=near.estimate,
    )
