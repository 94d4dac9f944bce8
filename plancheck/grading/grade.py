"""One submission marked: aspects, sections, critical faults, the total. Pure: everything it rests on is given."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from plancheck.grading.counts import missing_of
from plancheck.grading.first import first_things
from plancheck.grading.given import value_at
from plancheck.grading.marking import MARKED, OVERRIDDEN, TO_JUDGE, Submission, mark_of
from plancheck.grading.marksfile import Lifted, Marks
from plancheck.grading.results import AspectMark, CriticalMark, Graded
from plancheck.grading.roots import causes_of, shared_out
from plancheck.grading.rubric import ANY, Critical, Rubric
from plancheck.grading.total import filled, rounded, sections_of, total_of, without
from plancheck.outcomes import SEVERITIES

_LEVELS = ("not yet what the trade takes", "what the trade takes", "better in places", "excellent")


def graded(rubric: Rubric, work: Submission, candidate: str, sha256: str, marks: Marks) -> Graded:
    """The marks of a submission that could be read."""
    aspects = {key: aspect for key, (_, aspect) in rubric.aspects().items()}
    causes = causes_of(work.report)
    paid = shared_out(aspects, causes)
    told = [cause for one in paid.values() for cause in one.causes]
    found = {
        key: _by_person(mark_of(key, aspect, work, paid[key], told), candidate, marks) for key, aspect in aspects.items()
    }
    critical = tuple(without(rubric, found, tuple(_critical(rubric.critical, work, marks.lifted.get(candidate, {})))))
    before = sum(section.mark for section in sections_of(rubric, filled(found), critical))
    total = total_of(rubric, found, critical)
    reached = total >= rubric.pass_ if rubric.pass_ is not None else None
    return Graded(
        candidate,
        sha256,
        total,
        rounded(before, rubric.step),
        reached,
        tuple(sections_of(rubric, filled(found), critical)),
        critical,
        report=work.report,
        first=first_things(rubric, found, critical, paid, causes),
        to_judge=sum(one.state == TO_JUDGE for one in found.values()),
        existing=sum(run.work == "existing" for run in work.facts.plan.runs.values()),
    )


def unread(rubric: Rubric, candidate: str, sha256: str, why: tuple[str, ...]) -> Graded:
    """The row of a submission that cannot be read: the mark the rubric decides."""
    total = rounded(rubric.unreadable, rubric.step)
    reached = total >= rubric.pass_ if rubric.pass_ is not None else None
    return Graded(candidate, sha256, total, total, reached, unread=why)


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


def _critical(faults: Iterable[Critical], work: Submission, lifted: Mapping[str, Lifted]) -> Iterable[CriticalMark]:
    for fault in faults:
        least = SEVERITIES.index(fault.severity)
        found = [one for one in work.report.findings if _names(fault, one.rule) and SEVERITIES.index(one.severity) <= least]
        silent = [one.says for one in work.report.not_shown if fault.unsaid and _names(fault, one.rule)]
        bare = [f"The plan does not say {key}." for key in fault.says if value_at(work.facts.source.data, key) in (None, "not known")]
        lacks = (*bare, *missing_of(fault.fewest, work.facts.plan), *(f"Not stated: {says.rstrip('.')}." for says in dict.fromkeys(silent)))
        if found or lacks:
            numbers, says = tuple(one.number for one in found), (*(one.says for one in found), *lacks)
            one = lifted.get(fault.id)
            words = f"{one.because.rstrip('.')} ({one.by}, {one.second})" if one is not None else ""
            yield CriticalMark(fault.id, fault.title, numbers, says, fault.cap, fault.fails, lifted=words)


def _names(fault: Critical, rule: str) -> bool:
    """Whether a critical fault is about what a rule tells."""
    return rule in fault.rules or ANY in fault.rules
