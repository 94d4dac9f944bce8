"""One submission marked: aspects, sections, critical faults, the total. Pure: everything it rests on is given."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import ROUND_HALF_UP, Decimal

from plancheck.grading.counts import missing_of
from plancheck.grading.marking import MARKED, OVERRIDDEN, TO_JUDGE, Submission, mark_of
from plancheck.grading.marksfile import Marks
from plancheck.grading.results import AspectMark, CriticalMark, Graded, SectionMark
from plancheck.grading.roots import causes_of, shared_out
from plancheck.grading.rubric import ANY, Critical, Rubric
from plancheck.outcomes import SEVERITIES

FIRST = 3  # so many things to mend first
_LEVELS = ("below what the trade takes", "what the trade takes", "better in places", "excellent")


def graded(rubric: Rubric, work: Submission, candidate: str, sha256: str, marks: Marks) -> Graded:
    """The marks of a submission that could be read."""
    aspects = {key: aspect for key, (_, aspect) in rubric.aspects().items()}
    paid = shared_out(aspects, causes_of(work.report))
    found = {
        key: _by_person(mark_of(key, aspect, work, paid[key]), candidate, marks) for key, aspect in aspects.items()
    }
    critical = tuple(_critical(rubric.critical, work))
    critical = tuple(one._replace(without=_total(rubric, found, [other for other in critical if other is not one])) for one in critical)
    sections = tuple(_sections(rubric, found, critical))
    before = sum(section.mark for section in sections)
    total = _total(rubric, found, critical)
    reached = total >= rubric.pass_ if rubric.pass_ is not None else None
    return Graded(
        candidate,
        sha256,
        total,
        rounded(before, rubric.step),
        reached,
        sections,
        critical,
        report=work.report,
        first=_first(found.values()),
        to_judge=sum(one.state == TO_JUDGE for one in found.values()),
    )


def unread(rubric: Rubric, candidate: str, sha256: str, why: tuple[str, ...]) -> Graded:
    """The row of a submission that cannot be read: the mark the rubric decides."""
    total = rounded(rubric.unreadable, rubric.step)
    reached = total >= rubric.pass_ if rubric.pass_ is not None else None
    return Graded(candidate, sha256, total, total, reached, unread=why)


def rounded(mark: float, step: float) -> float:
    """A mark in whole steps, half a step upward; what binary fractions leave over is dropped first."""
    exact = Decimal(repr(round(mark, 9)))
    whole = (exact / Decimal(repr(step))).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    return float(whole * Decimal(repr(step)))


def _by_person(found: AspectMark, candidate: str, marks: Marks) -> AspectMark:
    """The marks of an aspect with what persons gave."""
    judged = marks.judged.get(candidate, {}).get(found.key)
    if judged is not None and found.state == TO_JUDGE:
        mark = judged.level / 3.0 * found.weight
        says = f"Level {judged.level} of 3: {_LEVELS[judged.level]}."
        found = found._replace(mark=mark, state=MARKED, says=says, because=judged.because, by=judged.by, gain=found.weight - mark)
    override = marks.overrides.get(candidate, {}).get(found.key)
    if override is None:
        return found
    return found._replace(
        mark=override.mark,
        state=OVERRIDDEN,
        says=f"Overridden; by rule it was {found.mark:.2f}. {found.says}",
        because=override.because,
        by=override.by,
        second=override.second,
        gain=found.weight - override.mark,
    )


def _critical(faults: Iterable[Critical], work: Submission) -> Iterable[CriticalMark]:
    for fault in faults:
        least = SEVERITIES.index(fault.severity)
        found = [one for one in work.report.findings if (one.rule in fault.rules or ANY in fault.rules) and SEVERITIES.index(one.severity) <= least]
        too_few = missing_of(fault.fewest, work.facts.plan)
        if found or too_few:
            numbers, says = tuple(one.number for one in found), (*(one.says for one in found), *too_few)
            yield CriticalMark(fault.id, fault.title, numbers, says, fault.cap, fault.fails)


def _total(rubric: Rubric, found: Mapping[str, AspectMark], critical: Sequence[CriticalMark]) -> float:
    """The total with these critical faults, in whole steps; a cap between two steps gives the lower."""
    whole = sum(section.mark for section in _sections(rubric, found, critical))
    cap = min((one.cap for one in critical if one.cap is not None), default=100.0)
    total = rounded(min(whole, cap), rubric.step)
    return total if total <= cap else rounded(total - rubric.step, rubric.step)


def _sections(rubric: Rubric, found: Mapping[str, AspectMark], critical: Iterable[CriticalMark]) -> Iterable[SectionMark]:
    for section in rubric.sections:
        aspects = tuple(found[f"{section.id}/{aspect.id}"] for aspect in section.aspects)
        failed = tuple(one.title for one in critical if one.fails == section.id)
        mark = 0.0 if failed else sum(one.mark for one in aspects)
        yield SectionMark(section.id, section.title, section.weight, mark, aspects, failed)


def _first(found: Iterable[AspectMark]) -> tuple[AspectMark, ...]:
    """The aspects that would gain most, what a person still has to judge left out."""
    open_ = [one for one in found if one.gain > 0.005 and one.state != TO_JUDGE]
    return tuple(sorted(open_, key=lambda one: (-one.gain, one.key))[:FIRST])
