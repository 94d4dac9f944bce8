"""A hot run may grow without being held

Looks at: each new hot run of plastic from 10 ft on: its longest straight between rigid points (its ends, couplings and ells),
    and what takes up its growth there: a bend, or slack (its tube is longer than its path). From 1-1/4 in up an offset leg
    that is long enough, at least every 50 ft. Most runs turn, and say nothing.
Why: PEX grows more than an inch in 100 ft for every 10 degF, ten times as much as copper. A straight hot line that was cut
    tight pushes at its fittings every time somebody showers, snakes in its clips and ticks in the night.
To mend: leave an eighth to three sixteenths of an inch of slack to the foot, or one swept bend; clips must let the tube slide.
    Small tube needs no expansion loops.
Cannot see: how tightly it was pulled, clips that grip; and cold runs, which shrink in winter, are not asked.
Ask: the code only wants provision for expansion; the numbers are tube makers'. CPVC goes by its maker's table.
"""

from collections.abc import Iterator
from itertools import pairwise

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    FOOT_M,
    GRACE_LENGTH_M,
    INCH_M,
    PEX,
    Bends,
    Facts,
    InForce,
    Length,
    Limits,
    NotShown,
    Outcome,
    Quantity,
    Rule,
    Run,
    Shape,
    Subject,
    Supports,
    Tube,
    at_least,
    broken,
    by_fitting,
    estimates,
    holds,
    is_new,
    is_plastic,
    length,
    of_practice,
    on_site,
    printed,
    recalled,
    tube_of,
    tube_outside_m,
)

_RATE_UNIT = "in for 100 ft and 10 degF"
_MAKERS = printed("two tube makers' manuals", "", "thermal expansion")


PEX_RATE = of_practice("pex_rate", "growth of PEX and PE-RT", _RATE_UNIT, "", 1.1, _MAKERS)
AL_RATE = of_practice("pex_al_rate", "growth of PEX-AL-PEX", _RATE_UNIT, "", 0.16, _MAKERS)
CPVC_RATE = of_practice("cpvc_rate", "growth of CPVC", _RATE_UNIT, "", 0.41, recalled("trade tables", "", "CPVC"))
STRAIGHT = of_practice("straight", "straight hot tube that needs nothing", "length", "at most", 10 * FOOT_M, _MAKERS)
ARM = of_practice("arm", "offset leg: so many times the root of outside diameter and growth in inches", "times", "at least", 12.0, _MAKERS)  # fmt: skip
EACH = of_practice("each", "straight between offsets, over 1 in", "length", "at most", 50 * FOOT_M, _MAKERS)
RULE = Rule("advice", "rough-in", (PEX_RATE, AL_RATE, CPVC_RATE, STRAIGHT, ARM, EACH))

_LARGE_IN = 1.1  # nominal: more than 1 in
_SLACK_SHARE = 3 / 16 / 12


class Straight(NamedTuple):
    """What lies between two rigid points: its length, and whether a bend lies in it."""

    m: float
    bent: bool


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each new run of hot water in plastic that is long enough to matter, or of which nobody says how long it is."""
    for run in facts.plan.runs.values():
        tube = tube_of(run, facts.plan)
        if tube is None or run.from_ is None or not is_new(run) or not is_plastic(tube):
            continue
        if facts.carried(run.id).service in ("hot", "hot return"):
            long_m = facts.run_length_m(run.id)
            if long_m is None or long_m >= 10 * FOOT_M - GRACE_LENGTH_M:
                yield Subject(("runs", run.id), run.id, facts.run_place(run.id), (run, tube))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the longest straight of a hot run has something that takes up its growth."""
    run, tube = subject.thing
    if tube.material == "CPVC":
        return on_site(
            f"CPVC grows {_grows(run, facts, limits.of(CPVC_RATE))}: see its maker's table for the offset leg"
        )
    if tube.material not in PEX:
        return on_site(f"{tube.material} in hot water: see its maker's table for growth and offsets")
    shape = facts.geometry.shapes.get(run.id)
    if shape is None:
        return _without_path(run)
    from plancheck.courses import nominal_inches

    straights = _straights(run, tube, shape)
    if (nominal_inches(tube) or 0.0) > _LARGE_IN:
        return _large(run, tube, shape, facts, limits)
    worst = max((one for one in straights if not one.bent), key=lambda one: one.m, default=None)
    if worst is None:
        return holds("a bend takes up its growth")
    if worst.m < limits.of(STRAIGHT).number - GRACE_LENGTH_M:
        return holds()
    return _slack(run, tube, shape, worst.m, facts, limits)


def _without_path(run: Run) -> Outcome:
    """By its bends alone: one that is no fitting, and nothing in line, will do."""
    bends = run.bends if isinstance(run.bends, Bends) else None
    each = bends.each if bends is not None and bends.each is not None else ()
    counted = bends is not None and isinstance(bends.count_, int) and bends.count_ > 0 and not by_fitting(bends.all)
    if not run.along and (counted or any(not by_fitting(bend) for bend in each)):
        return holds("a bend takes up its growth")
    raise NotShown(("runs", run.id, "path"), "where it turns (path), to see whether a bend takes up its growth")


def _straights(run: Run, tube: Tube, shape: Shape) -> list[Straight]:
    """The run cut at its rigid points."""
    from plancheck.bends import bent
    from plancheck.courses import SLIGHT

    made = bent(run, tube, None, shape)
    fixed = {0.0, shape.length_m} | {turn.at_m for turn in shape.turns if turn.number in made.fittings}
    fixed |= {one.at.m for one in run.along or () if one.is_ in ("coupling", "ell") and isinstance(one.at, Length)}
    soft = [turn.at_m for turn in shape.turns if turn.number not in made.fittings and turn.angle >= SLIGHT]
    points = sorted(min(point, shape.length_m) for point in fixed)
    return [Straight(b - a, any(a < at < b for at in soft)) for a, b in pairwise(points)]


def _temperatures(run: Run, facts: Facts) -> tuple[Quantity, Quantity]:
    """Coldest and set. Raises NotShown for the one that is missing."""
    heated, found = facts.carried(run.id).heated_by, facts.hot_set(run.id)
    if not isinstance(found, Quantity):
        raise NotShown(("parts", heated or "", "set"), "the temperature it is set to")
    coldest = facts.plan.water.coldest
    if not isinstance(coldest, Quantity):
        raise NotShown(("water", "coldest"), "the coldest water of the year")
    return coldest, found


def _growth_m(straight_m: float, kelvin: float, rate: InForce) -> float:
    return rate.number * INCH_M * straight_m / (100 * FOOT_M) * kelvin * 1.8 / 10


def _rate(tube: Tube, limits: Limits) -> InForce:
    return limits.of(AL_RATE if tube.material == "PEX-AL-PEX" else PEX_RATE)


def _grows(run: Run, facts: Facts, rate: InForce) -> str:
    coldest, found = facts.plan.water.coldest, facts.hot_set(run.id)
    long_m = facts.run_length_m(run.id)
    if not isinstance(coldest, Quantity) or not isinstance(found, Quantity) or long_m is None:
        return f"{rate.number:g} in in 100 ft for every 10 degF"
    return f"{facts.length(_growth_m(long_m, found.si - coldest.si, rate))} over its length"


def _slack(run: Run, tube: Tube, shape: Shape, straight_m: float, facts: Facts, limits: Limits) -> Outcome:
    if not isinstance(run.length, Length) or run.length.about:
        raise NotShown(("runs", run.id, "length"), "the length of its tube as cut, to tell the slack beside its path")
    coldest, hot = _temperatures(run, facts)
    rate = _rate(tube, limits)
    growth_m = _growth_m(straight_m, hot.si - coldest.si, rate)
    slack_m = max(run.length.m - shape.length_m, 0.0)
    estimate = estimates(coldest, hot) or ("its path" if shape.about else "")
    if at_least(slack_m, growth_m, GRACE_LENGTH_M):
        return holds("", length(slack_m), rate, estimate)
    cut = "to the path length" if slack_m < GRACE_LENGTH_M else f"with {facts.length(slack_m)} of slack"
    leave = facts.length(max(growth_m, _SLACK_SHARE * straight_m))
    return broken(
        f"{run.id}, {facts.long_length(straight_m)} straight, grows {facts.length(growth_m)} {_span(coldest, hot)} and was "
        f"cut {cut}.",
        "advice",
        measured=length(slack_m),
        limit=rate,
        found=f"{facts.length(slack_m)} of slack",
        needed=f"at least {facts.length(growth_m)} of slack, or a bend",
        mend=f"Leave {leave} of slack, or put one swept bend in it; clips must let the tube slide.",
        estimate=estimate,
    )


def _span(coldest: Quantity, hot: Quantity) -> str:
    return f"from {coldest.text.removeprefix('about ')} to {hot.text.removeprefix('about ')}"


def _large(run: Run, tube: Tube, shape: Shape, facts: Facts, limits: Limits) -> Outcome:
    """Tube over 1 in: the longest stretch against the longer of the legs beside it."""
    longest = max(shape.stretches, key=lambda one: one.length_m)
    place = shape.stretches.index(longest)
    if longest.length_m < limits.of(STRAIGHT).number - GRACE_LENGTH_M:
        return holds()
    each = limits.of(EACH)
    if longest.length_m > each.number + GRACE_LENGTH_M:
        return broken(
            f"{run.id} runs {facts.length(longest.length_m)} straight; tube over 1 in wants an offset every "
            f"{facts.length(each.number)}.",
            "advice",
            measured=length(longest.length_m),
            limit=each,
            mend=f"Put an offset or a loop in it every {facts.length(each.number)}, anchored between them.",
        )
    sides = [*shape.stretches[max(place - 1, 0) : place], *shape.stretches[place + 1 : place + 2]]
    if not sides:
        return _slack(run, tube, shape, longest.length_m, facts, limits)
    outside_m = tube_outside_m(tube)
    if outside_m is None:
        raise NotShown(("tubes", tube.id, "outside"), "the outside diameter of the tube")
    arm_m = max(_free_m(run, shape, one.start_m, one.length_m, one.start_m > longest.start_m) for one in sides)
    return _by_arm(run, longest.length_m, arm_m, outside_m, _rate(tube, limits), facts, limits)


def _free_m(run: Run, shape: Shape, start_m: float, long_m: float, ahead: bool) -> float:
    """How far a leg is free from its corner to the next support."""
    said = run.supports if isinstance(run.supports, Supports) else None
    if said is None or not isinstance(said.at, tuple):
        return long_m
    corner_m = start_m if ahead else start_m + long_m
    gaps = [abs(one.m - corner_m) for one in said.at if (one.m > corner_m) is ahead]
    return min([long_m, *gaps])


def _by_arm(run: Run, straight_m: float, arm_m: float, outside_m: float, rate: InForce, facts: Facts, limits: Limits) -> Outcome:  # fmt: skip
    coldest, hot = _temperatures(run, facts)
    limit = limits.of(ARM)
    growth_m = _growth_m(straight_m, hot.si - coldest.si, rate)
    needed_m = limit.number * (outside_m / INCH_M * growth_m / INCH_M) ** 0.5 * INCH_M
    if at_least(arm_m, needed_m, GRACE_LENGTH_M):
        return holds("", length(arm_m), limit, estimates(coldest, hot))
    return broken(
        f"{run.id} grows {facts.length(growth_m)} over {facts.long_length(straight_m)} {_span(coldest, hot)}, and the leg beside "
        f"it is {facts.length(arm_m)} long to its next support; {facts.length(needed_m)} bends without harm.",
        "advice",
        measured=length(arm_m),
        limit=limit,
        needed=f"a leg of at least {facts.length(needed_m)}",
        mend=f"Move the first support on that leg to {facts.length(needed_m)} from the corner, or put in a loop.",
        estimate=estimates(coldest, hot),
    )
