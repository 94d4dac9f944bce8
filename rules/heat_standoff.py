"""Plastic keeps away from flues, recessed lights and other hot things

Looks at: the straight distance from each run of plastic to each hot thing of the plan (flue, vent, recessed light ...):
    6 in beside it, 12 in above it. Above is where the tube passes higher within those 6 in as seen from above, all else
    is beside. Measured from centre line to centre line, less half of either diameter as far as the plan gives them;
    where no path measures it, the distance that the plan declares (clear).
Why: hot metal and lamps dry and soften plastic within a few seasons, heat rises to what lies above, and nobody sees it
    behind the board.
To mend: move the run, or use metal pipe on that stretch.
Cannot see: heat shields, how hot a thing gets, hot things the plan does not name. A light made to be covered by
    insulation may be cool enough: a person reads that on its label.
Ask: the tube maker's instructions (one maker keeps 12 in from recessed lights on every side). No model code carries
    these distances. What a vent itself must keep from wood is its own listing and another trade.
"""

from collections.abc import Iterator

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GRACE_LENGTH_M,
    VENTS,
    Clear,
    Facts,
    Hot,
    InForce,
    Length,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Path,
    Piece,
    Placed,
    Point,
    Rule,
    Run,
    Seat,
    Subject,
    Value,
    at_least,
    box_of,
    boxes_apart,
    broken,
    estimates,
    holds,
    is_new,
    is_plastic,
    length,
    nearest,
    on_site,
    parted,
    pieces_of,
    printed,
    seat_of,
    too_near,
    tube_of,
    tube_outside_m,
)

_INCH = 0.0254
_SOURCE = printed("PEX design guide and IAPMO IS 31, as inspectors quote them", "2006", "lights, vents, appliances")
_6_IN, _12_IN = Value(6 * _INCH, _SOURCE, practice=True), Value(12 * _INCH, _SOURCE, practice=True)
BESIDE = Limit("beside", "plastic tube beside a hot thing", "length", "at least", practice=(_6_IN,))
ABOVE = Limit("above", "plastic tube above a hot thing", "length", "at least", practice=(_12_IN,))
RULE = Rule(highest="correction", stage="layout", limits=(BESIDE, ABOVE))

_WIDE_M = {"boiler": 1.5, "furnace": 1.5, "stove": 1.5, "motor": 0.6}  # no wider in a house; what is not listed: 1 ft
_THICK_M = 2.125 * _INCH  # tube of nominal 2, the largest
_ASTRAY_M = 24 * _INCH  # further off is no estimated path, and no tube in closed framing
_NOWHERE_NEAR_M = 10 * 12 * _INCH  # no limit and no thing reaches as far
_ODD_M = 6 * _INCH  # by so much a declared distance may differ from a measured one
_LISTED = "The tube maker's instructions. A double-wall vent may be listed for 1 in to wood; plastic keeps further off."
_LABEL = "a light made to be covered by insulation: read its label, and keep the tube off its housing"
_OLD = "old plastic tube near it: look how it has kept"
_DIFFER = "its paths and the distance the plan declares (clear) differ: measure which is right"
_FISHED = "tube drawn through closed framing near it: nobody sees how far off it lies"


class Tubing(NamedTuple):
    """A plastic run, and where it lies if that is known."""

    run: Run
    line: tuple[Point, ...]
    box: Piece | None
    outside_m: float | None


class Pair(NamedTuple):
    """A plastic run and a hot thing, with what the plan declares of them."""

    tubing: Tubing
    seat: Seat
    declared: tuple[Clear, ...]


class Near(NamedTuple):
    """Where a run comes too near: how far off, on which side, at what distance along it where that is measured."""

    m: float
    limit: InForce
    along_m: float | None
    estimate: str


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each plastic run with each hot thing it is measured or declared against; else the hot thing, with the runs."""
    plan = facts.plan
    runs = [run for run in plan.runs.values() if run.work != "removed" and is_plastic(tube_of(run, plan))]
    tubings = [_tubing(run, facts) for run in runs] if plan.heat else []
    for hot in plan.heat.values() if runs else ():
        seat = seat_of(hot, plan.places)
        loose, paired = [], False
        for tubing in tubings:
            run = tubing.run
            declared = (run.clear or {}).get(hot.id, ())
            if declared or (seat.box is not None and tubing.box is not None):
                paired = True
                place = hot.place or next(iter(facts.run_places(run.id)), None)
                yield Subject(("runs", run.id), f"{run.id} and {hot.title}", place, Pair(tubing, seat, declared))
            elif hot.place is None or hot.place in (facts.run_places(run.id) or (hot.place,)):
                loose.append(run)
        if not paired or (loose and (hot.place is not None or seat.box is not None)):
            yield Subject(("heat", hot.id), hot.title, hot.place, (seat, loose))


def _tubing(run: Run, facts: Facts) -> Tubing:
    line, tube = facts.geometry.corners(run) or (), tube_of(run, facts.plan)
    return Tubing(run, line, box_of(line) if line else None, tube_outside_m(tube) if tube else None)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the run keeps its distance."""
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


def _unmeasured(seat: Seat, runs: list[Run]) -> Outcome:
    new, hot = [run.id for run in runs if is_new(run)], seat.hot
    if not runs and (hot.is_ not in VENTS or seat.box is not None):
        return holds("no plastic tube goes where it is")
    if (runs and not new) or _covered(hot):
        return on_site(_LABEL if _covered(hot) else _OLD)
    names = ", ".join(new[:4]) + (f" and {len(new) - 4} more" if len(new) > 4 else "")
    if seat.box is None:
        raise NotShown(seat.needs, f"where {hot.title} is" + (f", or how far {names} keep clear of it" if new else ""))
    raise NotShown(("runs", new[0], "clear", hot.id), f"how far {names} keep clear of {hot.title}")


def _covered(hot: Hot) -> bool:
    return hot.is_ == "recessed light" and hot.insulation_contact is True


def _by_word(pair: Pair, limits: Limits) -> Near | None:
    """The declared distance that falls short most, or None."""
    found = []
    for clear in pair.declared:
        limit = limits.of(ABOVE if clear.side == "above" else BESIDE)
        if not at_least(clear.distance.m, limit.number, GRACE_LENGTH_M):
            found.append(Near(clear.distance.m, limit, None, estimates(clear.distance)))
    return max(found, key=lambda near: near.limit.number - near.m, default=None)


def _measured(pair: Pair, mine: Piece, theirs: Piece, facts: Facts, limits: Limits) -> Outcome:
    tubing, seat = pair.tubing, pair.seat
    beside, above = limits.of(BESIDE), limits.of(ABOVE)
    keep_m = (beside.number - GRACE_LENGTH_M, above.number - GRACE_LENGTH_M)
    less_m, open_m, key = _thickness(pair)
    far_m = less_m + open_m + _ASTRAY_M
    if boxes_apart(mine, theirs, sum(keep_m) + far_m):
        return _against_word(pair, limits, less_m)
    seen, hidden = _pieces(tubing)
    about = seat.about or (f"the path of {tubing.run.id}" if facts.geometry.shapes[tubing.run.id].about else "")
    short = too_near(seen, seat.pieces, less_m, *keep_m)
    if short is not None:
        near = Near(short.m, above if short.above else beside, short.along_m, about)
        return _too_near(pair, near, ", to the middle where no diameter is said" if open_m else "", facts, limits)
    thick = open_m > 0 and too_near(seen, seat.pieces, less_m + open_m, *keep_m) is not None
    vague = about != "" and too_near(seen, seat.pieces, far_m, *keep_m) is not None
    if ((thick or vague) and _excuse(pair)) or too_near(hidden, seat.pieces, far_m, *keep_m) is not None:
        return on_site(_excuse(pair) or _FISHED)
    if thick:
        raise NotShown(key, "how thick it is: distances count from surface to surface")
    return holds("", None, None, about) if vague else _against_word(pair, limits, less_m)


def _thickness(pair: Pair) -> tuple[float, float, Path]:
    """Half of both diameters, which goes off a distance; how much more it may be where one is not said, and its key."""
    hot, outside_m = pair.seat.hot, pair.tubing.outside_m
    said_m = hot.size.m if isinstance(hot.size, Length) else None
    open_m = (0.0 if said_m is not None else _WIDE_M.get(hot.is_, 0.3)) + (0.0 if outside_m is not None else _THICK_M)
    key: Path = ("heat", hot.id, "size") if said_m is None else ("tubes", pair.tubing.run.tube or "", "outside")
    return ((said_m or 0.0) + (outside_m or 0.0)) / 2, open_m / 2, key


def _pieces(tubing: Tubing) -> tuple[list[Placed], list[Placed]]:
    """The straight pieces of a run: those that lie open, and those drawn through closed framing."""
    pieces, fished = pieces_of(tubing.line), tubing.run.fished
    if isinstance(fished, tuple):
        return parted(pieces, fished[0].m, fished[1].m)
    return ([], pieces) if fished is True else (pieces, [])


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
    return _LABEL if _covered(pair.seat.hot) else "" if is_new(pair.tubing.run) else _OLD


def _too_near(pair: Pair, near: Near, note: str, facts: Facts, limits: Limits) -> Outcome:
    if _excuse(pair):
        return on_site(_excuse(pair))
    hot, limit, side = pair.seat.hot, near.limit, near.limit.limit.id
    found, needed, more = (facts.length(m) for m in (max(near.m, 0.0), limit.number, limit.number - near.m))
    where = f", {facts.length(near.along_m)} from its start" if near.along_m is not None else ""
    aside = f" or {facts.length(limits.of(BESIDE).number)} clear to the side" if side == "above" else ""
    odd = [clear.distance.text for clear in pair.declared if abs(clear.distance.m - near.m) > _ODD_M]
    return broken(
        f"{pair.tubing.run.id} runs {found} {side} {hot.title} ({hot.is_}){note}; at least {needed}.",
        "correction",
        measured=length(max(near.m, 0.0)),
        limit=limit,
        found=f"{found} {side} it" + (f"; the plan declares {odd[0]}, its paths say otherwise" if odd else ""),
        needed=f"at least {needed} {side} it, surface to surface",
        mend=f"Move it {more} further away{aside}{where}, or use metal pipe on that stretch.",
        ask=_LISTED if hot.is_ == "double-wall vent" else "",
        estimate=near.estimate,
    )
