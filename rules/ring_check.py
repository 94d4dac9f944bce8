"""As many rings gauged as there are rings

Looks at: the rings, sleeves and push joints of new work on each side of the water, counted from the plan: two for a run, two
    for a coupling or an ell, two for each gap of a shop-made manifold. The written count of the claims that cover a side is
    held against it. A claim is a claim: that the count agrees does not say that anything was gauged.
Why: the one ring nobody squeezed holds the test on friction alone and lets go in the first cold winter. Counting finds it,
    looking does not.
To mend: gauge the rest and write the new count; a ring that the gauge refuses is cut out with its fitting's end.
Cannot see: the rings. Somebody looks at each: how far from the end it sits, square, the gauge goes and does not go.
Ask: makers differ on pressing a ring a second time; cutting it out is the safe one.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    PRACTICE,
    Facts,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Path,
    Rule,
    Subject,
    Value,
    broken,
    holds,
    on_site,
    printed,
)

if TYPE_CHECKING:
    from plancheck.rings import Claimed, Count

COUNTED = Limit(
    "counted",
    "rings a claim counts, of those in the plan",
    "text",
    "",
    practice=(Value("all of them", PRACTICE, practice=True),),
)
_ENDS = "1/8 to 1/4 in (3 to 6 mm)"
POSITION = Limit(
    "position",
    "ring of a crimp or clamp joint from the end of the tube",
    "text",
    "",
    practice=(Value(_ENDS, printed("makers' and retailers' sheets", "", "ring position"), practice=True),),
)
RULE = Rule("advice", "rough-in", (COUNTED, POSITION))


def subjects(facts: Facts) -> Iterator[Subject]:
    """For the sides with rings: the count of the claims that cover them; then the rings of each side."""
    from plancheck.rings import claims_on, count_rings

    counts = count_rings(facts)
    if not counts:
        return
    for claimed in claims_on(facts, counts):
        path: Path = ("claims", claimed.claims[0]) if claimed.claims else ("claims",)
        yield Subject(path, f"count of the rings on {' and '.join(claimed.sides)}", None, claimed)
    for side, count in counts.items():
        if count.total:
            yield Subject(("runs",), f"the rings on {side}", None, (side, count))


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the written count is that of the plan; the rings themselves are for a person."""
    if subject.path == ("runs",):
        side, count = subject.thing
        return _to_gauge(side, count, facts, limits)
    claimed: Claimed = subject.thing
    unsaid = next((path for count in claimed.counts for path in count.unsaid), None)
    total, where = sum(count.total for count in claimed.counts), " and ".join(claimed.sides)
    if claimed.key is not None:
        has = f"the plan has {total}" if unsaid is None else "nor does the plan say how all are joined"
        raise NotShown(claimed.key, f"how many rings were gauged on {where}; {has}")
    if claimed.written < total:
        return _too_few(claimed, total, where, limits)
    if unsaid is not None:
        raise NotShown(unsaid, "how it is joined: the rings cannot be counted")
    return holds(f"the count agrees: {claimed.written} written, {total} in the plan")


def _too_few(claimed: "Claimed", total: int, where: str, limits: Limits) -> Outcome:
    names = " and ".join(f"'{one}'" for one in claimed.claims)
    covers = "covers" if len(claimed.claims) == 1 else "cover"
    left = total - claimed.written
    return broken(
        f"The claim {names} {covers} {claimed.written} rings on {where}; the plan has {total}.",
        "advice",
        measured=Measured(claimed.written, "count"),
        limit=limits.of(COUNTED),
        found=f"{claimed.written} rings",
        needed=f"{total}, as many as the plan has",
        mend=f"Gauge the other {left} and write the new count. A ring the gauge refuses is cut out.",
        at=("claims", claimed.claims[0], "count"),
    )


def _to_gauge(side: str, count: "Count", facts: Facts, limits: Limits) -> Outcome:
    from plancheck.rings import GAUGED

    said = []
    gauged = sum(count.by_word.get(word, 0) for word in GAUGED)
    if gauged:
        said.append(
            f"{gauged} rings: {limits.of(POSITION).value} from the end of the tube, square, the gauge goes and does not go"
        )
    for word, number in count.by_word.items():
        if word not in GAUGED and number:
            depth = (
                "in to the depth mark" if word == "push" else "tight to its stop, the end of the tube in sight of it"
            )
            said.append(f"{number} by {word}: {depth}")
    claims = [one.id for one in facts.plan.claims.values() if isinstance(one.covers, tuple) and side in one.covers]
    told = f"; claimed in {', '.join(claims)}" if claims else ""
    return on_site("; ".join(said) + told)
