"""Torch work stays off the tube

Looks at: each new soldered or brazed joint from which metal leads to plastic tube: how far it is along the metal. Near tube
    that is there already the flame comes too close; near new tube it is a matter of what is done first. Press, push, ring,
    flare and threaded joints need no flame and are not asked.
Why: copper carries the heat of a torch a foot and a half along and softens the tube inside its ring. It looks sound, and
    drips a year later.
To mend: make that joint by press or push, pull the tube off first, or solder on the bench and let it cool before the ring.
Cannot see: the order of work, a wet rag round the pipe, what else stands near the flame.
Ask: tube makers say only to keep flame off; 18 in along the line is what the trade keeps.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    GRACE_LENGTH_M,
    INCH_M,
    METAL,
    PLASTIC,
    Facts,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Rule,
    Subject,
    Value,
    at_least,
    broken,
    holds,
    length,
    on_site,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.torch import Near

LEAST = Limit(
    "least",
    "metal between a soldered joint and plastic tube",
    "length",
    "at least",
    practice=(Value(18 * INCH_M, recalled("handbooks of tube makers", "", "soldering"), practice=True),),
)
RULE = Rule("advice", "rough-in", (LEAST,))


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each metal run with a new soldered end from which metal leads to plastic."""
    if not _both(facts):
        return
    from plancheck.torch import Metal

    metal = Metal(facts)
    for run, ends in metal.flamed.items():
        near = [one for end in ends for one in metal.nearest(end)]
        if near:
            yield Subject(("runs", run), f"soldered joints of {run}", facts.run_place(run), (run, near))


def _both(facts: Facts) -> bool:
    """Whether a plan has both flame and plastic."""
    plan = facts.plan
    if not any(tube.material in PLASTIC for tube in plan.tubes.values()):
        return False
    metal = {tube.id for tube in plan.tubes.values() if tube.material in METAL}
    words = {word for run in plan.runs.values() if run.tube in metal and run.joint for word in run.joint}
    return bool(words & {"solder", "braze"})


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the nearest plastic is far enough from the flame."""
    run, near = subject.thing
    limit = limits.of(LEAST)
    close = [one for one in near if not at_least(one.m, limit.number, GRACE_LENGTH_M)]
    known = [one for one in near if one.unsaid is None]
    sure = [one for one in known if one in close and one.old]
    if sure:
        return _too_near(run, min(sure, key=lambda one: one.m), facts, limits)
    doubtful = next((one for one in close if one.old), None)
    if doubtful is not None and doubtful.unsaid is not None:
        raise NotShown(doubtful.unsaid, f"how far the soldered joint is from {doubtful.name}")
    if close and all(one.unsaid is not None for one in close):
        raise NotShown(close[0].unsaid or (), f"how far the soldered joint is from {close[0].name}")
    if close:
        return on_site(f"near {close[0].name}: solder and let it cool before the tube goes on")
    nearest = min(near, key=lambda one: one.m)
    return holds("", length(nearest.m), limit, nearest.about)


def _too_near(run: str, one: "Near", facts: Facts, limits: Limits) -> Outcome:
    limit = limits.of(LEAST)
    found, needed, _ = limit.told_apart(one.m, facts.units)
    where = f"{found} along the metal from" if one.m > GRACE_LENGTH_M else "right at"
    return broken(
        f"{run} is soldered {where} {one.name}, tube that is there already; at least {needed}.",
        "advice",
        measured=length(one.m),
        limit=limit,
        mend=f"Make that joint by press or push, or take {one.name} off before the torch is lit.",
        caution="A torch in a wall starts fires: shield the wood, keep an extinguisher at hand, look again an hour later.",
        estimate=one.about,
    )
