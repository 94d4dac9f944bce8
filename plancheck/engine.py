"""Runs rules over facts. What is missing becomes `not shown`, what fails becomes `crashed`, nothing becomes silence."""

from collections.abc import Iterable

from plancheck.facts import Facts
from plancheck.limits import Limits, NotShown
from plancheck.loader import LoadedRule
from plancheck.outcomes import (
    BROKEN,
    CRASHED,
    LATER,
    NOT_SHOWN,
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


def run_rules(rules: Iterable[LoadedRule], facts: Facts) -> tuple[Judged, ...]:
    """Every outcome of every rule, rules by id, subjects in the rule's own order."""
    limits = Limits(facts.family, facts.edition)
    found: list[Judged] = []
    for rule in rules:
        found.extend(_run(rule, facts, limits))
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
