"""The house can be emptied

Looks at: the main shutoff: whether it has a bleed or drain, or something that opens stands behind it with no other valve
    between; and the lowest point of the cold and of the hot side: whether something can be opened there or not more than
    12 in higher. Home runs that sag below their manifold are ordinary: only the lowest point of a whole side is judged.
Why: somebody will have to empty the house: to mend a joint, before a hard winter, after a burst. Water that stays in a low line
    freezes there, or runs over the hands of whoever cuts it.
To mend: a main valve with a drain cap; a hose thread on the manifold's test port; a drain valve at the lowest point.
Cannot see: sags between supports, whether a bleed still turns. Runs in slab and ground cannot be drained and are not judged.
Ask: the IRC wants a bleed or a separate drain at the main; the others have no such number.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    GRACE_LENGTH_M,
    INCH_M,
    NONE,
    PRACTICE,
    Facts,
    HeaterOwn,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Path,
    Rule,
    Subject,
    Value,
    ValveOwn,
    at_most,
    broken,
    capital,
    holds,
    is_new,
    length,
    on_site,
    printed,
)

if TYPE_CHECKING:
    from plancheck.draining import Low

_BLEED = "a bleed or a separate drain at the main shutoff"
MAIN = Limit(
    "main",
    "drain at the main shutoff",
    "text",
    "",
    irc=(Value(_BLEED, printed("IRC", "2006", "P2903.9.1")),),
    practice=(Value(_BLEED, printed("IRC", "2006", "P2903.9.1"), practice=True),),
)
LOW_POINT = Limit(
    "low_point",
    "from the lowest point of a side up to something that opens",
    "length",
    "at most",
    practice=(Value(12 * INCH_M, PRACTICE, practice=True),),
)
RULE = Rule("correction", "layout", (MAIN, LOW_POINT))


def subjects(facts: Facts) -> Iterator[Subject]:
    """The main shutoff; the lowest point of each side with new work."""
    from plancheck.draining import runs_of

    main = facts.main_valve
    if main is not None:
        yield Subject(("parts", main), f"drain of {facts.part_name(main)}", facts.plan.parts[main].place, main)
    for side, runs in runs_of(facts).items():
        if any(is_new(run) for run in runs):
            yield Subject(("runs",), f"lowest point of the {side} side", None, (side, runs), "rough-in")


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the house drains at its main, or a side at its lowest point."""
    if isinstance(subject.thing, str):
        return _main(subject.thing, facts, limits)
    from plancheck.draining import low_of

    side, runs = subject.thing
    return _low(side, low_of(facts, runs, side), facts, limits)


def _main(main: str, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.draining import drains_main

    part = facts.plan.parts[main]
    own = part.own if isinstance(part.own, ValveOwn) else ValveOwn()
    drain = own.drain
    if drain in ("bleed", "port") or own.style == "stop and waste":
        return holds(f"drain: {drain or own.style}")
    near = drains_main(facts, main)
    if near is not None:
        return holds(f"{near} opens right behind it")
    if not is_new(part):
        return on_site("old main shutoff: see whether it has a bleed, or a drain stands behind it")
    if drain != NONE:
        raise NotShown(
            ("parts", main, "drain"), "whether the main shutoff has a bleed or drain (drain: bleed, port, none)"
        )
    return broken(
        f"{capital(facts.part_name(main))} has no bleed and nothing drains right behind it.",
        "correction" if facts.family == "irc" else "advice",
        limit=limits.of(MAIN),
        found="no bleed, no drain",
        needed=_BLEED,
        mend="Use a main valve with a drain cap, or put a drain with a hose thread right behind it; a test port there will do.",
        at=("parts", main, "drain"),
    )


def _low(side: str, low: "Low", facts: Facts, limits: Limits) -> Outcome:
    limit = limits.of(LOW_POINT)
    laid = "; runs in slab and ground cannot be drained" if low.laid else ""
    if low.run is None:
        if low.untold is None:
            return holds(f"all of it lies in slab or ground{laid}")
        raise _untold(low.untold.id, facts)
    above_m = low.opening[1] - low.height_m if low.opening is not None else None
    high = above_m is None or not at_most(above_m, limit.number, GRACE_LENGTH_M)
    if low.untold is not None:
        raise _untold(low.untold.id, facts)
    if not high and low.opening is not None:
        return holds(
            f"{low.run.id} drains at {_opens(low.opening[0], facts)}{laid}", length(max(above_m or 0.0, 0.0)), limit
        )
    what = (
        f"the lowest that opens is {_opens(low.opening[0], facts)}, {facts.length(above_m)} higher"
        if low.opening is not None and above_m is not None
        else "nothing opens"
    )
    return broken(
        f"The {side} side is lowest at {low.run.id}, and {what}.",
        "advice",
        measured=length(above_m) if above_m is not None else None,
        limit=limit,
        found=what,
        needed=f"something that opens at most {facts.length(limit.number)} higher",
        mend=f"Put a drain valve with a hose thread at the lowest point of {low.run.id}.",
        at=("runs", low.run.id),
    )


def _opens(part: str, facts: Facts) -> str:
    own = facts.plan.parts[part].own
    tank = isinstance(own, HeaterOwn) and own.style == "storage"
    return f"the drain of {facts.part_name(part)}" if tank else facts.part_name(part)


def _untold(run: str, facts: Facts) -> NotShown:
    """The key that would tell how low a run lies: its path; where it has one, how high it begins."""
    found = facts.plan.runs[run]
    key: Path = ("runs", run, "path")
    if run in facts.geometry.shapes and found.from_ is not None:
        key = ("parts", found.from_.part, "at")
    elif isinstance(found.rise, str) or found.rise is None:
        key = ("runs", run, "rise")
    return NotShown(key, f"how low {run} lies (heights of its ends)")
