"""Runs rules over facts. What is missing becomes `not shown`, what fails becomes `crashed`, nothing becomes silence."""

from collections.abc import Iterable, Mapping

from plancheck.facts import Facts
from plancheck.limits import Amended, Limits, NotShown
from plancheck.loader import LoadedRule
from plancheck.outcomes import (
    BROKEN,
    CRASHED,
    LATER,
    NOT_SHOWN,
    ON_SITE,
    OUTCOMES,
    SEVERITIES,
    STAGES,
    Outcome,
    Subject,
)
from plancheck.record import NamedTuple


class Judged(NamedTuple):
    """One rule's answer on one subject."""

    rule: str
    subject: Subject
    outcome: Outcome


def run_rules(
    rules: Iterable[LoadedRule], facts: Facts, amended: Mapping[str, Mapping[str, Amended]] | None = None
) -> tuple[Judged, ...]:
    """Every outcome of every rule, rules by id, subjects in the rule's own order. amended: by rule, then by limit."""
    limits = Limits(facts.family, facts.edition)
    found: list[Judged] = []
    for rule in rules:
        own = amended.get(rule.id) if amended is not None else None
        found.extend(_run(rule, facts, Limits(facts.family, facts.edition, own) if own else limits))
    return tuple(found)


def _run(rule: LoadedRule, facts: Facts, limits: Limits) -> list[Judged]:
    found: list[Judged] = []
    reached = STAGES[: STAGES.index(facts.stage) + 1]
    own = rule.rule.stage
    try:
        for subject in rule.subjects(facts):
            stage = subject.stage or own
            if stage in reached:
                outcome = _outcome(rule, subject, facts, limits)
            else:
                outcome = Outcome(LATER, f"judged from the {stage} stage on")
            found.append(Judged(rule.id, subject, outcome))
    except (Exception, SystemExit) as wrong:  # a rule that fails is reported and fails the run, never silent
        nobody = Subject((), "the rule itself")
        found.append(Judged(rule.id, nobody, Outcome(CRASHED, f"{type(wrong).__name__}: {wrong}")))
    return found


def _outcome(rule: LoadedRule, subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    outcome = _asked(rule, subject, facts, limits)
    amended = _amended(outcome)
    if amended is None:
        return outcome
    if amended.off:
        return _off(rule, subject, facts, limits, outcome, amended)
    return _as_amended(outcome, amended)


def _as_amended(outcome: Outcome, amended: Amended) -> Outcome:
    """A finding with the severity an authority gives it; a hazard stays one, for the same reason as in _off."""
    if outcome.severity == "hazard" and amended.severity not in (None, "hazard"):
        caution = f"{amended.source.named} calls it {amended.severity} because {amended.because}; a hazard is told all the same."
        return outcome._replace(caution=f"{outcome.caution} {caution}".strip())
    return outcome._replace(severity=amended.severity or outcome.severity)


def _amended(outcome: Outcome) -> Amended | None:
    """What an authority says of the limit that a finding cites."""
    return outcome.limit.amended if outcome.kind == BROKEN and outcome.limit is not None else None


def _off(
    rule: LoadedRule, subject: Subject, facts: Facts, limits: Limits, outcome: Outcome, amended: Amended
) -> Outcome:
    """What becomes of a subject that breaks a limit which is switched off: what else is wrong with it, or on site.

    A hazard is told all the same: an authority that does not ask for a number has not said that it may hurt somebody.
    """
    assert outcome.limit is not None
    by = f"{amended.source.named} because {amended.because}"
    if outcome.severity == "hazard":
        caution = f"The limit is switched off by {by}; a hazard is told all the same."
        return outcome._replace(caution=f"{outcome.caution} {caution}".strip())
    other = _asked(rule, subject, facts, limits.with_off_unbroken())
    also = _amended(other)
    if other.kind == BROKEN and (also is None or not also.off):
        return _as_amended(other, also) if also is not None else other
    return Outcome(ON_SITE, f"not judged: '{outcome.limit.limit.title}' is switched off by {by}")


def _asked(rule: LoadedRule, subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    try:
        outcome = rule.check(subject, facts, limits)
    except NotShown as missing:
        return Outcome(NOT_SHOWN, missing.what, needs=(missing.path,))
    except (Exception, SystemExit) as wrong:
        return Outcome(CRASHED, f"{type(wrong).__name__}: {wrong}")
    return _sound(rule, outcome)


def _sound(rule: LoadedRule, outcome: Outcome) -> Outcome:
    """The outcome, or `crashed` where the rule answered what it may not."""
    if not isinstance(outcome, Outcome) or outcome.kind not in OUTCOMES:
        return Outcome(CRASHED, f"it answered {outcome!r}, which is no outcome")
    if outcome.kind == BROKEN:
        if outcome.severity not in SEVERITIES:
            return Outcome(CRASHED, f"it gave the severity {outcome.severity!r}")
        if SEVERITIES.index(outcome.severity) < SEVERITIES.index(rule.rule.highest):
            return Outcome(CRASHED, f"it gave a {outcome.severity} though its highest is {rule.rule.highest}")
    return outcome
