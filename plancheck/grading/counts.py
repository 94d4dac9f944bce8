"""What a rubric can count in a plan: runs, fixtures, parts of a kind."""

from __future__ import annotations

from collections import Counter

from plancheck.kinds import KINDS
from plancheck.model import Plan

Fixtures = tuple[tuple[str, int], ...]
COUNTED = frozenset(("runs", "fixtures", *KINDS))


def count_of(what: str, plan: Plan) -> int:
    """How many runs, fixtures or parts of a kind a plan has, old work and new; what is taken out counts for nothing."""
    if what == "runs":
        return sum(run.work != "removed" for run in plan.runs.values())
    if what == "fixtures":
        return len(_fixtures(plan))
    return sum(part.is_ == what and part.work != "removed" for part in plan.parts.values())


def _fixtures(plan: Plan) -> list[str]:
    """The kind of each fixture that is there."""
    return [part.is_ for part in plan.parts.values() if KINDS[part.is_].sort == "fixture" and part.work != "removed"]


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
    return tuple(sorted(Counter(_fixtures(plan)).items()))
