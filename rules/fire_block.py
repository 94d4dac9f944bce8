"""Holes through plates, floors and ceilings are closed again

Looks at: every pass of new work through a top or sole plate, a subfloor, floor or ceiling, and through anything that has a
    fire rating: whether the gap round the tube is closed. Studs of one wall stop no fire between storeys and are not asked,
    nor is framing that stays open.
Why: a wall bay that is open at its top plate is a chimney. Fire that starts in a cellar is in the attic in minutes by the
    holes plumbers and electricians left; and mice take the same way.
To mend: fire-blocking sealant, mineral wool or mortar that is approved for it, laid in after the test and before the framing
    inspection; the builder often does it, so settle who does. No solvent foam on plastic tube. A rated wall or floor takes a
    system that is listed for this tube and size (ASTM E814 or UL 1479).
Cannot see: what the gap is closed with, and the holes of other trades beside it.
Ask: between garage and house the IRC asks ordinary fire-blocking, not a listed collar; some cities ask more.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    NONE,
    NOT_KNOWN,
    Facts,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Rule,
    Subject,
    Value,
    broken,
    holds,
    is_new,
    on_site,
    printed,
    recalled,
)

if TYPE_CHECKING:
    from plancheck.passes import Passed

_DEMAND, _RATED = (
    "the gap round pipe at floors and ceilings is closed",
    "a listed system where the wall or floor is rated",
)
SEALED = Limit(
    "sealed",
    "gaps round pipe through plates, floors and ceilings",
    "text",
    "",
    irc=(Value(_DEMAND, printed("IRC", "", "R302.11 item 4")),),
    ipc=(Value(_DEMAND, recalled("IBC", "2018", "718.2")),),
    upc=(Value(_DEMAND, recalled("IBC", "2018", "718.2")),),
    practice=(Value(_DEMAND, printed("IRC", "", "R302.11 item 4"), practice=True),),
)
LISTED = Limit(
    "listed",
    "pipe through rated walls and floors",
    "text",
    "",
    irc=(Value(_RATED, printed("IRC", "", "R302.4.1.2")),),
    ipc=(Value(_RATED, recalled("IBC", "2018", "714.4")),),
    upc=(Value(_RATED, recalled("IBC", "2018", "714.4")),),
    practice=(Value(_RATED, printed("IRC", "", "R302.4.1.2"), practice=True),),
)
RULE = Rule("correction", "rough-in", (SEALED, LISTED))


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each pass of new work through what must be closed again."""
    from plancheck.passes import CLOSED_AGAIN

    for one in facts.passes:
        if not is_new(one.run) or one.said.open is True:
            continue
        if _rating(one) is not None or not CLOSED_AGAIN.isdisjoint(one.member.kinds):
            yield Subject(one.path, one.name, one.place, one)


def _rating(one: "Passed") -> str | None:
    return one.said.rated if one.said.rated not in (None, NONE, NOT_KNOWN) else None


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the gap round the tube is closed."""
    one: Passed = subject.thing
    if one.fished:
        return on_site("drawn through closed framing: look whether the gaps were closed where it can be reached")
    rating, sealed = _rating(one), one.said.sealed
    if sealed is None or sealed == NOT_KNOWN:
        raise NotShown((*one.path, "sealed"), "whether the gap round the tube is closed (sealed: true or false)")
    if sealed is True:
        if rating is not None:
            return on_site(f"rated {rating}: look for the label of a system listed for this tube and size")
        return holds("the gap is closed")
    return _open(one, rating, facts, limits)


def _open(one: "Passed", rating: str | None, facts: Facts, limits: Limits) -> Outcome:
    count = one.alike or 1
    rated = f" (rated {rating})" if rating is not None else ""
    what = (
        f"{count} holes through {one.said.through}{rated} are"
        if count > 1
        else f"The hole through {one.said.through}{rated} is"
    )
    mend = (
        "Close the gap with a system listed for this tube and size (ASTM E814 or UL 1479)"
        if rating is not None
        else "Close each gap with approved fire-blocking sealant, or have the builder do it,"
    )
    return broken(
        f"{what} open round {one.run.id}.",
        "correction" if facts.stage == "finished" else "advice",
        limit=limits.of(LISTED if rating is not None else SEALED),
        found="open",
        needed="closed all round",
        mend=f"{mend} before the framing inspection; no solvent foam on plastic tube.",
    )
