"""Where the pressure goes, and whether the manifold is the place to spend money

Looks at: each manifold with three or more circuits: how much of the loss to its worst outlet at peak the manifold
    itself takes, beside service and meter, trunk, heater and branch. Where an outlet on it is short of pressure, or a
    shower on it swings, and the manifold takes a large share, closing the ring or larger tube would help.
Why: a ring looks like the answer to everything. It takes away most of the loss inside the manifold and nothing else;
    where the service takes the pressure, ring or no ring changes a port by little.
To mend: make the row of the next larger tube, feed it in the middle, or close it to a ring; else look where the loss is.
Cannot see: what each change would give to each port: `plancheck flow` solves ring, straight and larger side by side.
Ask: nobody: no code asks for a ring.
"""

from __future__ import annotations

from collections.abc import Iterator

from plancheck.rulekit import (
    PRACTICE,
    PSI_PA,
    Facts,
    InForce,
    Limit,
    Limits,
    ManifoldOwn,
    Measured,
    NotShown,
    Outcome,
    Part,
    Rule,
    Subject,
    Value,
    broken,
    capital,
    holds,
)

LARGE = Limit("large", "share of the loss that a manifold takes, from which changing it helps", "count", "at most",
              practice=(Value(0.30, PRACTICE, practice=True),))  # fmt: skip
SMALL = Limit("small", "share under which changing it does little", "count", "at least",
              practice=(Value(0.15, PRACTICE, practice=True),))  # fmt: skip
WORTH = Limit("worth", "loss on the way under which there is nothing to gain", "pressure", "at least",
              practice=(Value(2 * PSI_PA, PRACTICE, practice=True),))  # fmt: skip
SWING = Limit("swing", "change of a shower's temperature that counts", "difference", "at most",
              practice=(Value(3.6 / 1.8, PRACTICE, practice=True),))  # fmt: skip
RULE = Rule("advice", "layout", (LARGE, SMALL, WORTH, SWING))

_GRACE = 0.005  # shares are told in whole percent
_SERVICE, _MANIFOLD = "service and meter", "manifold"


def subjects(facts: Facts) -> Iterator[Subject]:
    """Each manifold with three or more used circuits."""
    for part in facts.plan.parts.values():
        if isinstance(part.own, ManifoldOwn) and part.work != "removed" and len(facts.flow.used_ports(part)) >= 3:
            yield Subject(("parts", part.id), facts.part_name(part.id), part.place, part)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether the manifold takes so much that changing it would help an outlet that needs it."""
    part: Part = subject.thing
    taken = facts.flow.taken_by(facts.loads, part)
    if taken.missing is not None:
        raise NotShown(taken.missing.path, taken.missing.what)
    if taken.why or not taken.side:
        raise NotShown(("parts", part.id), f"an answer of the computation ({taken.why or 'no outlet draws'})")
    limit, total = limits.of(LARGE), taken.total_pa
    share = taken.losses_pa[_MANIFOLD] / total if total > 0 else 0.0
    service = taken.losses_pa[_SERVICE] / total if total > 0 else 0.0
    measured = Measured(round(share, 3), "count")
    if total < limits.of(WORTH).number:
        return holds("little is lost on the way", measured, limit)
    if share <= limit.number + _GRACE:
        note = f"ring or larger manifold changes this by little; the service takes {service:.0%}"
        return holds(note if share < limits.of(SMALL).number else f"it takes {share:.0%}", measured, limit)
    if not _wanted(part, facts, limits):
        return holds(f"it takes {share:.0%}, and no outlet on it is short", measured, limit)
    return _broken(part, taken.side, share, service, total, limit, facts)


def _wanted(part: Part, facts: Facts, limits: Limits) -> bool:
    """Whether an outlet on it is short at peak, or a shower on it swings that no listed valve holds."""
    most = limits.of(SWING).number
    on_it = dict.fromkeys(side.partition("/")[0] for side in facts.flow.sides_on(part))
    short = facts.flow.shorts(facts.loads)
    return any(one.part in on_it for one in short.outlets) or any(facts.flow.swings_over(name, most) for name in on_it)


def _broken(
    part: Part, side: str, share: float, service: float, total_pa: float, limit: InForce, facts: Facts
) -> Outcome:
    shape = part.own.shape if isinstance(part.own, ManifoldOwn) else None
    tube = facts.plan.tubes.get(part.own.tube or "") if isinstance(part.own, ManifoldOwn) else None
    larger = facts.flow.larger(tube, 0.0) if tube is not None else None
    ways = [f"make it of {larger[0]} in tube" if larger else "make it of larger tube"]
    if shape != "ring":
        ways += ["join its last port back to the first (a ring)", "feed it in the middle"]
    name = facts.part_name(part.id)
    return broken(
        f"{capital(name)} takes {share:.0%} of the {facts.quantity(total_pa, 'pressure')} lost to {side} at peak; "
        f"the service takes {service:.0%}.",
        "advice",
        measured=Measured(round(share, 3), "count"),
        limit=limit,
        found=f"{share:.0%} of the loss in {name}",
        needed=f"at most {limit.number:.0%}",
        mend=f"{capital(ways[0])}{', or ' + ', or '.join(ways[1:]) if ways[1:] else ''}: `plancheck flow` shows what "
        "each would give. Pressure that is equal at all ports is not to be had for nothing.",
        cause=("parts", part.id),
    )
