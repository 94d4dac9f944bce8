"""Runs tied together

Looks at: runs with one bundle name: whether hot and cold are tied in it, how tightly, and whether the hot is insulated; and,
    where hot water circulates, each cold run that goes beside it within 6 in for 10 ft. Two colds, or two hots, may be tied
    as they please; short crossings say nothing.
Why: tube has to slide when it warms, and a tight tie saws. Hot beside cold warms the cold: a drink of water from a line tied
    to a loop is at 80 degF, where what lives in water thrives.
To mend: tie loosely, a hand's width of play; insulate the hot, or keep 6 in between the two.
Cannot see: how tight a tie really is, and runs that lie together without a bundle name or a path.
Ask: no code names a distance between hot and cold; cold is best kept below 77 degF.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.record import NamedTuple
from plancheck.rulekit import (
    GRACE_LENGTH_M,
    INCH_M,
    NONE,
    NOT_KNOWN,
    PRACTICE,
    Facts,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Rule,
    Run,
    Subject,
    Value,
    broken,
    holds,
    is_new,
    length,
    on_site,
    printed,
)

if TYPE_CHECKING:
    from plancheck.alongside import Beside

_NEAR_M, _LONG_M = 6 * INCH_M, 120 * INCH_M
_LOOSE = "tied loosely, hot insulated from cold"
TIE = Limit("tie", "hot and cold in one bundle", "text", "", practice=(Value(_LOOSE, printed("a tube maker's sheet", "", "bundles"), practice=True),))  # fmt: skip
GAP = Limit(
    "gap",
    "circulating hot beside cold",
    "length",
    "at least",
    practice=(Value(_NEAR_M, PRACTICE, practice=True),),
)
LONG = Limit(
    "long",
    "how far bare circulating hot may go beside cold",
    "length",
    "at most",
    practice=(Value(_LONG_M, PRACTICE, practice=True),),
)
RULE = Rule("advice", "rough-in", (TIE, GAP, LONG))

_SHARP = 0.7853981633974483 - 1e-6  # 45 degrees
_HOT = ("hot", "hot return")


class Bundle(NamedTuple):
    """A bundle: its name, its runs, and those of them in which hot water circulates."""

    name: str
    runs: tuple[Run, ...]
    moving: frozenset[str]


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each bundle of two runs and more, once more where it turns; each cold run beside circulating hot."""
    named: dict[str, list[Run]] = {}
    for run in facts.plan.runs.values():
        if run.bundle is not None and run.bundle not in (NONE, NOT_KNOWN) and run.work != "removed":
            named.setdefault(run.bundle, []).append(run)
    loops = any(part.is_ == "pump" for part in facts.plan.parts.values()) or bool(facts.traced.returns)
    moving: frozenset[str] = frozenset()
    if loops:
        from plancheck.alongside import moving as moving_of

        moving = moving_of(facts)
    for name, runs in named.items():
        if len(runs) > 1 and any(is_new(run) for run in runs):
            path, place = ("runs", runs[0].id, "bundle"), facts.run_place(runs[0].id)
            yield Subject(path, f"bundle {name}", place, Bundle(name, tuple(runs), moving))
            if any(
                turn.angle >= _SHARP for run in runs if (s := facts.geometry.shapes.get(run.id)) for turn in s.turns
            ):
                yield Subject(path, f"turns of bundle {name}", place, None)
    if moving:
        yield from _pairs(facts)


def _pairs(facts: Facts) -> Iterator[Subject]:
    from plancheck.alongside import beside

    near_m, long_m = _NEAR_M + GRACE_LENGTH_M, _LONG_M - GRACE_LENGTH_M
    for pair in beside(facts, near_m, long_m):
        if is_new(pair.hot) or is_new(pair.cold):
            name = f"{pair.hot.id} beside {pair.cold.id}"
            yield Subject(("runs", pair.hot.id), name, facts.run_place(pair.hot.id), pair)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether hot and cold leave each other in peace."""
    if subject.thing is None:
        return on_site("look where the bundle turns: nothing may chafe; sleeve it there")
    if isinstance(subject.thing, Bundle):
        return _bundle(subject.thing, facts, limits)
    return _beside(subject.thing, facts, limits)


def _bundle(bundle: Bundle, facts: Facts, limits: Limits) -> Outcome:
    water = {run.id: facts.carried(run.id).service for run in bundle.runs}
    hot = [run for run in bundle.runs if water[run.id] in _HOT]
    if not hot or all(run in hot or water[run.id] is None for run in bundle.runs):
        return holds("one water only")
    bare = [run for run in hot if run.insulation == NONE]
    untold = [run for run in hot if run.insulation is None or run.insulation == NOT_KNOWN]
    if not bare and not untold:
        return holds("the hot is insulated")
    loop = next((run for run in bare if run.id in bundle.moving), None)
    if loop is not None:
        return _tied(bundle, f"with {loop.id} bare in it, which circulates", facts, limits)
    ties = {run.tie for run in bundle.runs}
    if "tight" in ties:
        return _tied(bundle, "strapped tight", facts, limits)
    moving = next((run for run in untold if run.id in bundle.moving), None)
    if moving is not None:
        raise NotShown(("runs", moving.id, "insulation"), "whether the circulating hot in the bundle is insulated")
    if "loose" in ties and NOT_KNOWN not in ties:
        return holds("tied loosely")
    raise NotShown(("runs", bundle.runs[0].id, "tie"), "how hot and cold are tied (tie: loose or tight)")


def _tied(bundle: Bundle, says: str, facts: Facts, limits: Limits) -> Outcome:
    known = [m for run in bundle.runs if (m := facts.run_length_m(run.id)) is not None]
    over = f" over {facts.length(min(known))}" if known else ""
    return broken(
        f"Hot and cold of {bundle.name} are tied together{over}, {says}.",
        "advice",
        limit=limits.of(TIE),
        found=says,
        needed="loose ties, and insulation on hot that circulates",
        mend="Tie loosely, hot insulated, so that the cold stays cold and the tubes can slide.",
    )


def _beside(pair: "Beside", facts: Facts, limits: Limits) -> Outcome:
    hot, cold = pair.hot, pair.cold
    if hot.insulation is None or hot.insulation == NOT_KNOWN:
        raise NotShown(("runs", hot.id, "insulation"), f"whether it is insulated where it goes beside {cold.id}")
    if hot.insulation != NONE:
        return holds("the hot is insulated")
    limit, far = limits.of(GAP), limits.of(LONG)
    if pair.gap_m > limit.number + GRACE_LENGTH_M or pair.length_m < far.number - GRACE_LENGTH_M:
        return holds("far enough apart, or not for long")
    gap, long = facts.length(pair.gap_m), facts.length(pair.length_m)
    return broken(
        f"{hot.id} circulates bare {gap} beside {cold.id} for {long} and warms it.",
        "advice",
        measured=length(pair.gap_m),
        limit=limit,
        needed=f"insulation, or more than {facts.length(limit.number)} between them",
        mend=f"Insulate {hot.id} over those {long}, or move one of them more than {facts.length(limit.number)} off.",
    )
