"""From the marks of aspects and the critical faults to sections and the total."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import ROUND_HALF_UP, Decimal

from plancheck.grading.marking import LEFT_OUT, TO_JUDGE
from plancheck.grading.results import AspectMark, CriticalMark, SectionMark
from plancheck.grading.rubric import Rubric


def filled(found: Mapping[str, AspectMark]) -> Mapping[str, AspectMark]:
    """The marks with those of aspects that are left out: as large a share as the rest has, what waits for a person left out."""
    out = [one for one in found.values() if one.state == LEFT_OUT]
    if not out:
        return found
    rest = [one for one in found.values() if one.state not in (LEFT_OUT, TO_JUDGE)]
    whole = sum(one.weight for one in rest)
    share = sum(one.mark for one in rest) / whole if whole else 0.0
    return {key: one._replace(mark=share * one.weight) if one.state == LEFT_OUT else one for key, one in found.items()}


def standing(critical: Iterable[CriticalMark]) -> tuple[CriticalMark, ...]:
    """The critical faults that no person has lifted."""
    return tuple(one for one in critical if not one.lifted)


def sections_of(
    rubric: Rubric, found: Mapping[str, AspectMark], critical: Sequence[CriticalMark]
) -> Iterator[SectionMark]:
    """The sections with their marks; none for one that a critical fault takes."""
    for section in rubric.sections:
        aspects = tuple(found[f"{section.id}/{aspect.id}"] for aspect in section.aspects)
        failed = tuple(one.title for one in standing(critical) if one.fails == section.id)
        mark = 0.0 if failed else sum(one.mark for one in aspects)
        yield SectionMark(section.id, section.title, section.weight, mark, aspects, failed)


def capped(rubric: Rubric, found: Mapping[str, AspectMark], critical: Sequence[CriticalMark]) -> float:
    """The whole under its caps, before it is rounded."""
    whole = sum(section.mark for section in sections_of(rubric, filled(found), critical))
    return min([whole, *(one.cap for one in standing(critical) if one.cap is not None)])


def total_of(rubric: Rubric, found: Mapping[str, AspectMark], critical: Sequence[CriticalMark]) -> float:
    """The total in whole steps; a cap between two steps gives the lower."""
    cap = min((one.cap for one in standing(critical) if one.cap is not None), default=100.0)
    total = rounded(capped(rubric, found, critical), rubric.step)
    return total if total <= cap else rounded(total - rubric.step, rubric.step)


def without(
    rubric: Rubric, found: Mapping[str, AspectMark], critical: Sequence[CriticalMark]
) -> Iterable[CriticalMark]:
    """Each critical fault with the total if it alone were not."""
    for one in critical:
        yield one._replace(without=total_of(rubric, found, [other for other in critical if other is not one]))


def rounded(mark: float, step: float) -> float:
    """A mark in whole steps, half a step upward; what binary fractions leave over is dropped first."""
    exact = Decimal(repr(round(mark, 9)))
    whole = (exact / Decimal(repr(step))).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    return float(whole * Decimal(repr(step)))
