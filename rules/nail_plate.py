"""Screws and nails cannot reach the pipe

Looks at: every hole and notch that the plan lists in studs, plates, joists and rafters: how far the near edge of the hole is
    from the nearest face of the timber, and whether a steel plate guards it. The tube is taken as lying against that edge.
    Copper and CPVC need plates as PEX does; galvanised pipe does not, nor framing that stays in sight.
Why: the board goes on with 1-1/4 in screws and trim with 2 in nails, by people who cannot see the pipe. A screw that only
    nicks the tube holds through the test and floods the room years later. No correction is written more often.
To mend: a steel plate over each bore: 16 gauge (0.0575 in) that reaches 2 in past sole and top plates under IRC and IPC;
    18 gauge, 1-1/2 in past the pipe on both sides under UPC. Or drill in the middle of a deeper stud.
Cannot see: the gauge of a plate, whether it covers the bore, holes that the plan does not list, how long the screws are.
Ask: one tube maker asks 2 in; some cities still ask 1-1/2.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from plancheck.rulekit import (
    GRACE_LENGTH_M,
    INCH_M,
    NOT_KNOWN,
    Facts,
    InForce,
    Length,
    Limit,
    Limits,
    NotShown,
    Outcome,
    Rule,
    Subject,
    Value,
    at_least,
    broken,
    capital,
    estimates,
    holds,
    is_new,
    length,
    on_site,
    printed,
)

if TYPE_CHECKING:
    from plancheck.passes import Passed

EDGE = Limit(
    "edge",
    "from the near edge of a hole to the face of the timber, without a steel plate",
    "length",
    "at least",
    irc=(
        Value(1.5 * INCH_M, printed("IRC", "before 2015", "P2603.2.1")),
        Value(1.25 * INCH_M, printed("IRC", "2015", "P2603.2.1"), since=2015),
    ),
    ipc=(
        Value(1.5 * INCH_M, printed("IPC", "before 2015", "305.6")),
        Value(1.25 * INCH_M, printed("IPC", "2015", "305.6"), since=2015),
    ),
    upc=(Value(1.0 * INCH_M, printed("UPC", "", "312.9")),),
)
RULE = Rule("correction", "rough-in", (EDGE,))

_LEAST_ANYWHERE_M, _ENOUGH_ANYWHERE_M = 1.0 * INCH_M, 1.5 * INCH_M  # of the values above
_BORED = frozenset(("stud", "top plate", "sole plate", "joist", "glued"))
_HARD = frozenset(("galvanised steel", "ductile iron"))


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each hole or notch of new work in wood that will be covered; and once the plates themselves, for a person."""
    plated = False
    for one in facts.passes:
        if not is_new(one.run) or one.said.open is True or one.member.wood not in _BORED:
            continue
        if one.tube is not None and one.tube.material in _HARD:
            continue
        yield Subject(one.path, one.name, one.place, one)
        if one.said.plate is True and not plated:
            plated = True
            yield Subject((*one.path, "plate"), "the steel plates", one.place, None)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a nail stays off the pipe."""
    one: Passed | None = subject.thing
    if one is None:
        return on_site(f"look that each plate covers its bore: {_plate(facts)}")
    if one.fished:
        return on_site("drawn through closed framing: nobody sees how near the face it lies")
    if one.said.plate is True:
        return holds("a steel plate guards it")
    limit = limits.maybe(EDGE)
    if isinstance(one.said.notch, Length):
        return _notched(one, limit, facts)
    return _bored(one, limit, facts, limits)


def _unguarded(one: "Passed") -> None:
    """Raises NotShown where the plan does not say that there is no plate."""
    if one.said.plate is None or one.said.plate == NOT_KNOWN:
        raise NotShown((*one.path, "plate"), "whether a steel plate guards it (plate: true or false)")


def _notched(one: "Passed", limit: InForce | None, facts: Facts) -> Outcome:
    _unguarded(one)
    return broken(
        f"A notch in the {_timber(one)} carries {one.run.id} at the face, and no steel plate covers it.",
        "correction",
        limit=limit,
        found="a notch without a plate",
        needed="a steel plate over every notch",
        mend=_mend(facts),
    )


def _bored(one: "Passed", limit: InForce | None, facts: Facts, limits: Limits) -> Outcome:
    from plancheck.passes import left_m

    left = left_m(one)
    if left is None:
        raise NotShown((*one.path, "edge"), "how far the hole's near edge is from the face of the timber")
    edge_m, centred = left
    least_m = limit.number if limit is not None else _ENOUGH_ANYWHERE_M
    if at_least(edge_m, least_m, GRACE_LENGTH_M):
        if centred:
            raise NotShown((*one.path, "edge"), "how far the hole's near edge is from the face; centred it would do")
        return holds("", length(edge_m), limit, estimates(one.said.edge))
    _unguarded(one)
    if limit is None and at_least(edge_m, _LEAST_ANYWHERE_M, GRACE_LENGTH_M):
        limits.of(EDGE)
    even = ", even centred" if centred else ""
    needed = f"{facts.length(limit.number if limit is not None else _LEAST_ANYWHERE_M)}, or a steel plate"
    return broken(
        f"{capital(_timber(one))} bored for {one.run.id} {facts.length(edge_m)} from the face{even}; at least {needed}.",
        "correction",
        measured=length(edge_m),
        limit=limit,
        needed=f"at least {needed}" + ("" if limit is not None else ", whichever of the codes counts"),
        mend=_mend(facts),
        estimate=estimates(one.said.edge, one.said.hole),
    )


def _timber(one: "Passed") -> str:
    return f"{one.said.through}, {one.alike} of them," if (one.alike or 1) > 1 else f"{one.said.through}"


def _mend(facts: Facts) -> str:
    return f"Nail a steel plate ({_plate(facts)}) over each bore before the board goes on."


def _plate(facts: Facts) -> str:
    if facts.family == "upc":
        return f"18 gauge, {facts.length(1.5 * INCH_M)} past the pipe on both sides"
    return f"16 gauge, {facts.length(2 * INCH_M)} past sole and top plates"
