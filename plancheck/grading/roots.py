"""Which aspect pays for which root cause: each cause once in the whole rubric, what hangs on it nowhere else."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from plancheck.grading.rubric import RULES, Aspect
from plancheck.outcomes import SEVERITIES
from plancheck.record import NamedTuple
from plancheck.report.data import Finding, PlanReport


class Cause(NamedTuple):
    """A root cause: the finding that is told by itself, and those that hang on it."""

    root: Finding
    hanging: tuple[Finding, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All of them."""
        return (self.root, *self.hanging)


class Paid(NamedTuple):
    """For one aspect the causes it pays for, and findings of its rules that cost nothing as their cause is paid for elsewhere."""

    causes: tuple[Cause, ...]
    kept: tuple[Finding, ...]


def causes_of(report: PlanReport) -> tuple[Cause, ...]:
    """The root causes of a report, in its order. What one rule says of one line of the plan is one slip, whatever it breaks."""
    hanging: dict[int, list[Finding]] = {}
    first: dict[tuple[str, str, int, int], int] = {}
    for one in report.findings:
        root = one.under or first.setdefault((one.rule, one.file, one.line, one.column), one.number)
        if root != one.number:
            hanging.setdefault(root, []).append(one)
    hung = {one.number for some in hanging.values() for one in some}
    for number in sorted(hung & set(hanging)):  # what hangs on a slip told before hangs on the first
        root = next(other for other, some in hanging.items() if any(one.number == number for one in some))
        hanging[root] += hanging.pop(number)
    return tuple(Cause(one, tuple(hanging.get(one.number, ()))) for one in report.findings if one.number not in hung)


def shared_out(aspects: Mapping[str, Aspect], causes: Iterable[Cause]) -> Mapping[str, Paid]:
    """For every aspect by its key what it pays for.

    A cause goes to the first aspect that names the rule of its root, else to the first that names the rule of one of its
    consequences; a finding of advice costs only where an aspect says so.
    """
    paid: dict[str, list[Cause]] = {key: [] for key in aspects}
    kept: dict[str, list[Finding]] = {key: [] for key in aspects}
    ruled = {key: aspect for key, aspect in aspects.items() if aspect.way == RULES}
    for cause in causes:
        payer = _payer(ruled, cause)
        if payer is None:
            continue
        paid[payer].append(cause)
        for finding in cause.findings:
            for key, aspect in ruled.items():
                if key != payer and counts(aspect, finding):
                    kept[key].append(finding)
    return {key: Paid(tuple(paid[key]), tuple(kept[key])) for key in aspects}


def _payer(aspects: Mapping[str, Aspect], cause: Cause) -> str | None:
    for finding in cause.findings:
        for key, aspect in aspects.items():
            if counts(aspect, finding):
                return key
    return None


def counts(aspect: Aspect, finding: Finding) -> bool:
    """Whether a finding costs marks in an aspect."""
    return finding.rule in aspect.rules and (aspect.advice or finding.severity != SEVERITIES[-1])
