"""What a rubric can count in a plan: runs, fixtures, parts of a kind."""

from __future__ import annotations

from plancheck.kinds import KINDS
from plancheck.model import Plan

Fixtures = tuple[tuple[str, int], ...]
COUNTED = frozenset(("runs", "fixtures", *KINDS))


def count_of(what: str, plan: Plan) -> int:
    """How many runs, fixtures or parts of a kind a plan has, old work and new."""
    if what == "runs":
        return len(plan.runs)
    if what == "fixtures":
        return sum(KINDS[part.is_].sort == "fixture" for part in plan.parts.values())
    return sum(part.is_ == what for part in plan.parts.values())


def missing_of(fewest: tuple[tuple[str, int], ...], plan: Plan) -> tuple[str, ...]:
    """In words, of what the plan has too few."""
    found = ((what, count_of(what, plan), least) for what, least in fewest)
    return tuple(
        f"{what[:1].upper()}{what[1:]}: {has} in the plan, {least} or more asked."
        for what, has, least in found
        if has < least
    )


def fixtures_of(plan: Plan) -> Fixtures:
    """The fixtures a plan serves: kinds and how many of each."""
    kinds = [part.is_ for part in plan.parts.values() if KINDS[part.is_].sort == "fixture"]
    return tuple((kind, kinds.count(kind)) for kind in sorted(set(kinds)))
